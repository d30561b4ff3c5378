import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { lodebook } from "./run.ts";

const folder = mkdtempSync(join(tmpdir(), "lodebook-maps-"));
const file = (name: string, text: string): string => {
	const path = join(folder, name);
	writeFileSync(path, text);
	return path;
};

const SITE = `site:
  name: Sheepfold
  latitude: 32.4123 S
  longitude: 54.3622 W
  elevation: 145 m # by the map
  timezone: America/Montevideo`;

const GPX = `<?xml version="1.0"?>
<gpx version="1.1" creator="by hand" xmlns="http://www.topografix.com/GPX/1/1">
 <wpt lat="-32.4391" lon="-54.3951"><ele>187</ele><name>water &amp; tower: 2</name></wpt>
 <wpt lat="-32.5" lon="-54.3622"><ele>300</ele><name><![CDATA[south, hill]]></name></wpt>
 <wpt lat="-32.4130" lon="-54.3622"><name>gate</name></wpt>
 <wpt lat="-31.5" lon="-54.3622"><name>far town</name></wpt>
 <wpt lat="95" lon="1"><name>nowhere</name></wpt>
 <trk><name>the walk in</name><trkseg><trkpt lat="-32.4" lon="-54.3"/></trkseg></trk>
</gpx>`;

test("way points become landmarks where their bearing is sure enough", () => {
	const plan = file("one.lode.yaml", `${SITE}\n`);
	const { stdout, stderr, status } = lodebook("landmarks", file("summits.gpx", GPX), "--plan", plan);
	expect(status).toBe(0);
	expect(parse(stdout)).toEqual({
		landmarks: [
			{ name: "water & tower: 2", latitude: "32.4391 S", longitude: "54.3951 W", elevation: "187 m" },
			{ name: "south, hill", latitude: "32.5 S", longitude: "54.3622 W", elevation: "300 m" },
		],
	});
	expect(stdout).toContain("# From summits.gpx: places within 10 m");
	// Bearing 226.1° and 4.29 km by Karney's geodesic (GeographicLib's GeodSolve); atan(10 / 4286) = 0.13°.
	expect(stderr).toMatch(/^water & tower: 2: bearing 226\.\d° ± 0\.13°, 4\.3 km, altitude 0\.5\d°\.$/m);
	expect(stderr).toMatch(/^gate: left out; at 80 m an error of 10 m turns its bearing by 7\.3°/m);
	expect(stderr).toMatch(/^1 point left out: further away than 100 km, and --reach is 50 km\.$/m);
	expect(stderr).toMatch(/^nowhere: left out; its latitude, 95, is not a number from −90 to 90\.$/m);
});

test("coordinates that are swapped in the file are guessed; a distance without a unit that is unlikely is refused", () => {
	const plan = file("swap.lode.yaml", `${SITE}\n`);
	const map = file("swap.gpx", '<gpx><wpt lat="-54.3951" lon="-32.4391"><name>tower</name></wpt></gpx>');
	expect(lodebook("landmarks", map, "--plan", plan).stderr).toContain(
		"With latitude and longitude swapped, 1 of them would be within 50 km",
	);
	expect(lodebook("landmarks", map, "--plan", plan, "--reach", "20")).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("Alone, 20 is metres, which is not likely here: write its unit, such as '50 km'"),
	});
	expect(lodebook("landmarks", file("s2.gpx", GPX), "--plan", plan).stderr).not.toContain("wrong way round");
});

test("an elevation that is no number is told of once, and one nearer landmark is one", () => {
	const plan = file("feet.lode.yaml", `${SITE}\n`);
	const map = file(
		"feet.gpx",
		'<gpx><wpt lat="-32.4391" lon="-54.3951"><ele>614 ft</ele><name>tower</name></wpt><wpt lat="-32.5" lon="-54.3622"><name>hill</name></wpt></gpx>',
	);
	const { stderr } = lodebook("landmarks", map, "--plan", plan, "--most", "1");
	expect(stderr).toContain("its elevation in the file, 614 ft, is not used");
	expect(stderr).not.toContain("the file gives no elevation");
	expect(stderr).toContain("hill: left out; 1 nearer one is enough (--most).");
});

describe("each point that a file gives is kept or told of", () => {
	const tower = '<wpt lat="-32.4391" lon="-54.3951"><ele>187</ele><name>tower</name></wpt>';
	const run = (map: string, name = "p.gpx") =>
		lodebook("landmarks", file(name, map), "--plan", file("points.lode.yaml", `${SITE}\n`));

	test.each([
		['<wpt lat="abc" lon="-54.4"><name>Bad</name></wpt>', /^Bad: left out; its latitude, abc, is not a number from/m],
		['<wpt lat="-32.4" lon="200"><name>Bad</name></wpt>', /^Bad: left out; its longitude, 200, is not a number from/m],
		['<wpt lat="-32.4"><name>Bad</name></wpt>', /^Bad: left out; the file gives no longitude for it\.$/m],
		['<wpt lat="\u001b[2J&#10;x" lon="1"/>', /^point 2: left out; its latitude, \S*\[2J x, is not/m],
		[tower, /^tower: left out; it is where tower is\.$/m],
		[
			// 5 m to the south: 0.000045°.
			'<wpt lat="-32.439145" lon="-54.3951"><name>mast</name></wpt>',
			/^mast: left out; it is where tower is\.$/m,
		],
	])("%j", (point, why) => {
		const { stdout, stderr, status } = run(`<gpx>${tower}${point}</gpx>`);
		expect(status).toBe(0);
		expect(parse(stdout).landmarks.map(({ name }: { name: string }) => name)).toEqual(["tower"]);
		expect(stderr).toMatch(why);
	});

	test("of one name at two places, both are kept", () => {
		const other = tower.replace("-32.4391", "-32.45");
		const { stdout } = run(`<gpx>${tower}${other}</gpx>`);
		expect(parse(stdout).landmarks.map(({ name }: { name: string }) => name)).toEqual(["tower", "tower 2"]);
	});

	test("an elevation that no ground has is not used, and that is told", () => {
		const { stdout, stderr } = run(`<gpx>${tower.replace("187", "32767")}</gpx>`);
		expect(parse(stdout).landmarks[0].elevation).toBeUndefined();
		expect(stderr).toMatch(/^tower: its elevation in the file, 32767, is not used: .* from −500 to 9,000 m\.$/m);
	});

	test("in GeoJSON, where a number is written as a text", () => {
		const geometry = (coordinates: unknown) => ({ type: "Point", coordinates });
		const { stderr, status } = run(
			JSON.stringify({ type: "GeometryCollection", geometries: [geometry([-54.4, "-32.44"]), geometry([])] }),
			"p.geojson",
		);
		expect(status).toBe(2);
		expect(stderr).toMatch(/^point 1: left out; its latitude, "-32\.44", is not a number/m);
		expect(stderr).toMatch(/^point 2: left out; the file gives no latitude/m);
		expect(stderr).toMatch(/none of its 2 points can be used/);
	});
});

test("they are written into the plan with where they are from, and not twice", () => {
	const plan = file("two.lode.yaml", `${SITE}\n---\nnight:\n  date: 2027-06-05\n`);
	const map = file("summits2.gpx", GPX);
	expect(lodebook("landmarks", map, "--plan", plan, "--write").status).toBe(0);
	const once = readFileSync(plan, "utf8");
	expect(once).toBe(`${SITE}
  # From summits2.gpx: places within 10 m, so bearings within 0.13°.
  landmarks:
    - { name: "water & tower: 2", latitude: 32.4391 S, longitude: 54.3951 W, elevation: 187 m }
    - { name: "south, hill", latitude: 32.5 S, longitude: 54.3622 W, elevation: 300 m }
---
night:
  date: 2027-06-05
`);
	expect(lodebook("check", plan).stdout).not.toMatch(/\bsite\//);
	const again = lodebook("landmarks", map, "--plan", plan, "--write");
	expect(again).toMatchObject({
		status: 0,
		stdout: "",
		stderr: expect.stringContaining("the plan has a landmark of that name"),
	});
	expect(again.stderr).toMatch(
		/two\.lode\.yaml: no landmark added; 2 of the points in .*summits2\.gpx are there already\.$/m,
	);
	expect(readFileSync(plan, "utf8")).toBe(once);
	const more = file(
		"more.geojson",
		JSON.stringify({
			type: "FeatureCollection",
			features: [
				{
					type: "Feature",
					properties: { name: "mast" },
					geometry: { type: "Point", coordinates: [-54.3, -32.42, 210] },
				},
				{ type: "Feature", properties: {}, geometry: { type: "LineString", coordinates: [] } },
			],
		}),
	);
	expect(lodebook("landmarks", more, "--plan", plan, "--write").stderr).toContain("above the ellipsoid");
	expect(readFileSync(plan, "utf8")).toContain(
		"elevation: 300 m }\n    # From more.geojson: places within 10 m, so bearings within 0.10°.\n    - { name: mast, latitude: 32.42 S, longitude: 54.3 W, elevation: 210 m }\n---",
	);
});

test.each([
	[
		"block with Windows' line ends",
		`${SITE}\n  landmarks:\n  - { name: own, bearing: 20 }\nplan:\n`.replaceAll("\n", "\r\n"),
	],
	["flow list", `${SITE}\n  landmarks: [{ name: own, bearing: 20 }]\n`],
	["empty list", `${SITE}\n  landmarks: []\n`],
	["flow mapping", "site: { name: Sheepfold, latitude: 32.4123 S, longitude: 54.3622 W }\n"],
	["skyline last", `${SITE}\n  skyline:\n    - [0, 0]\n    - [90, 0.2] # low\n\n# end\n`],
])("a plan with a %s takes them", (_, text) => {
	const plan = file("form.lode.yaml", text);
	expect(lodebook("landmarks", file("s.gpx", GPX), "--plan", plan, "--write", "--most", "1")).toMatchObject({
		status: 0,
	});
	const now = readFileSync(plan, "utf8");
	const { site } = parse(now) as { site: { landmarks: { name: string }[] } };
	expect(site.landmarks.map(({ name }) => name)).toEqual(
		text.includes("own") ? ["own", "water & tower: 2"] : ["water & tower: 2"],
	);
	for (const line of text.split("\n").filter((one) => !/landmarks|^site: \{/.test(one))) expect(now).toContain(line);
});

test("placemarks of KML: only an absolute altitude is an elevation", () => {
	const plan = file("kml.lode.yaml", `${SITE}\n`);
	const placemark = (name: string, mode: string) =>
		`<Placemark><name>${name}</name><Point>${mode}<coordinates>-54.3951,-32.4391,187 </coordinates></Point></Placemark>`;
	const kml = (inner: string) =>
		`<kml xmlns="http://www.opengis.net/kml/2.2"><Document><Folder>${inner}</Folder></Document></kml>`;
	const ground = lodebook("landmarks", file("a.kml", kml(placemark("tower", ""))), "--plan", plan);
	expect(parse(ground.stdout).landmarks).toEqual([{ name: "tower", latitude: "32.4391 S", longitude: "54.3951 W" }]);
	const absolute = placemark("tower", "<altitudeMode>absolute</altitudeMode>");
	expect(parse(lodebook("landmarks", file("b.kml", kml(absolute)), "--plan", plan).stdout).landmarks[0].elevation).toBe(
		"187 m",
	);
});

describe("what cannot be seen is left out, and said", () => {
	test("behind the plan's skyline, outside its openings", () => {
		const map = file("v.gpx", GPX);
		const hidden = lodebook("landmarks", map, "--plan", file("s.lode.yaml", `${SITE}\n  skyline: [[0, 20]]\n`));
		expect(hidden).toMatchObject({
			status: 2,
			stderr: expect.stringContaining("lower than the plan's skyline, 20.0°"),
		});
		const cave = `${SITE}\n  openings: [{ name: mouth, outline: [[10, 0], [60, 0], [40, 40]] }]\n`;
		expect(lodebook("landmarks", map, "--plan", file("c.lode.yaml", cave)).stderr).toContain("outside every opening");
	});

	test("behind the ground of a tile; the tile's ground is the elevation that the file lacks", () => {
		const heights = Buffer.alloc(2 * 1201 * 1201);
		for (let row = 0; row < 1201; row++)
			for (let column = 0; column < 1201; column++)
				heights.writeInt16BE(row < 546 && row > 540 ? 1500 : 500, 2 * (row * 1201 + column));
		const tile = join(folder, "N46E008.hgt");
		writeFileSync(tile, heights);
		const plan = file("tile.lode.yaml", "site:\n  name: plain\n  latitude: 46.5 N\n  longitude: 8.5 E\n");
		const map = file(
			"t.gpx",
			`<gpx><wpt lat="46.62" lon="8.5"><name>behind</name></wpt><wpt lat="46.45" lon="8.5"><name>before</name></wpt></gpx>`,
		);
		const { stdout, stderr } = lodebook("landmarks", map, "--plan", plan, "--terrain", tile);
		expect(parse(stdout).landmarks).toEqual([
			{ name: "before", latitude: "46.45 N", longitude: "8.5 E", elevation: "500 m" },
		]);
		expect(parse(stdout).elevation).toBe("500 m");
		expect(stderr).toMatch(/^behind: left out; 13 km away, it is hidden by the ground at 5\.\d km\.$/m);
		const broken = join(folder, "N45E008.hgt");
		writeFileSync(broken, "half");
		const despite = lodebook("landmarks", map, "--plan", plan, "--terrain", tile, broken);
		expect([despite.status, despite.stdout]).toEqual([2, stdout]);
		expect(despite.stderr).toMatch(/^Left out, as it cannot be used: .*N45E008\.hgt: 4 bytes/m);
	});

	test("without a skyline in the plan the tiles tell what is seen; without tiles the level horizon does, and that is said", () => {
		const heights = Buffer.alloc(2 * 1201 * 1201);
		for (let row = 0; row < 1201; row++)
			for (let column = 0; column < 1201; column++)
				heights.writeInt16BE(row === 600 ? 900 : 300, 2 * (row * 1201 + column));
		const tile = join(folder, "N48E008.hgt");
		writeFileSync(tile, heights);
		const site = "site:\n  name: saddle\n  latitude: 48.5 N\n  longitude: 8.5 E\n  elevation: 900 m\n";
		const map = file("low.gpx", `<gpx><wpt lat="48.55" lon="8.5"><ele>320</ele><name>mill</name></wpt></gpx>`);
		const plan = file("saddle.lode.yaml", site);
		const seen = lodebook("landmarks", map, "--plan", plan, "--terrain", tile, "--write");
		expect([seen.status, seen.stderr]).toEqual([0, expect.stringMatching(/^mill: bearing 000.0° .* below level\.$/m)]);
		expect(parse(readFileSync(plan, "utf8")).site.landmarks).toMatchObject([
			{ name: "mill", altitude: expect.stringMatching(/^-[56]\.\d\d?°$/) },
		]);
		expect(lodebook("check", plan).stdout).not.toContain("site/landmark-hidden");
		expect(lodebook("landmarks", map, "--plan", file("saddle2.lode.yaml", site))).toMatchObject({
			status: 2,
			stderr: expect.stringMatching(
				/^mill: left out; at 6\.\d° below the horizon it is lower than the level horizon.*\n.*: its one point cannot be used as a landmark here\.$/m,
			),
		});
	});

	test("what hides it just in front of it is said to be its own hill, as a rule", () => {
		const heights = Buffer.alloc(2 * 1201 * 1201);
		for (let row = 0; row < 1201; row++)
			for (let column = 0; column < 1201; column++)
				heights.writeInt16BE(row > 340 && row < 365 ? 1500 : 300, 2 * (row * 1201 + column));
		const tile = join(folder, "N49E008.hgt");
		writeFileSync(tile, heights);
		const plan = file(
			"hill.lode.yaml",
			`site:\n  name: plain\n  latitude: 49.5 N\n  longitude: 8.5 E\n  elevation: 300 m\n  landmarks:\n    - { name: cairn, latitude: 49.705 N, longitude: 8.5 E, elevation: 1400 m }\n`,
		);
		expect(lodebook("skyline", "--terrain", tile, "--plan", plan).stderr).toContain(
			"cairn, 23 km away, is hidden by the ground just in front of it",
		);
		const map = file("cross.gpx", `<gpx><wpt lat="49.705" lon="8.505"><ele>1400</ele><name>cross</name></wpt></gpx>`);
		expect(lodebook("landmarks", map, "--plan", plan, "--terrain", tile).stderr).toContain(
			"cross: left out; 23 km away, it is hidden by the ground just in front of it",
		);
	});

	test("lower than the skyline, but nearer than the ground that makes it: it is seen, and its altitude says so", () => {
		const heights = Buffer.alloc(2 * 1201 * 1201);
		for (let row = 0; row < 1201; row++)
			for (let column = 0; column < 1201; column++)
				heights.writeInt16BE(row < 546 && row > 540 ? 1500 : 500, 2 * (row * 1201 + column));
		const tile = join(folder, "N47E008.hgt");
		writeFileSync(tile, heights);
		const site = "site:\n  name: plain\n  latitude: 47.5 N\n  longitude: 8.5 E\n  elevation: 500 m\n";
		const map = file("p.gpx", `<gpx><wpt lat="47.53" lon="8.5"><name>barn</name></wpt></gpx>`);
		// The ridge to the north stands at 11.1°, 5 km away; the barn, 3.3 km away, at the eye's own height.
		const plan = file("seen.lode.yaml", `${site}  skyline: [[0, 11.1], [90, 0], [270, 0]]\n`);
		const seen = lodebook("landmarks", map, "--plan", plan, "--terrain", tile, "--write");
		expect(seen.status).toBe(0);
		// What is told, what is written with its reason, and what the plan then shows are one.
		const [, told = ""] = /^barn: .*, (0\.0\d)° below level\.$/m.exec(seen.stderr) ?? [];
		expect(readFileSync(plan, "utf8")).toContain(`altitude: -${told}°`);
		expect(readFileSync(plan, "utf8")).toMatch(
			/# Those with an altitude are lower than the skyline but in front of it/,
		);
		expect(lodebook("show", plan).stdout).toContain(`−${told}°`);
		expect(parse(readFileSync(plan, "utf8")).site.landmarks).toEqual([
			{
				name: "barn",
				latitude: "47.53 N",
				longitude: "8.5 E",
				elevation: "500 m",
				altitude: expect.stringMatching(/^-0\.0\d°$/),
			},
		]);
		expect(lodebook("check", plan).stdout).not.toContain("site/landmark-hidden");
		// A skyline that is higher than the ground there is something else, which may be nearer.
		const walls = file("walls.lode.yaml", `${site}  skyline: [[0, 14], [90, 0], [270, 0]]\n`);
		expect(lodebook("landmarks", map, "--plan", walls, "--terrain", tile).stderr).toContain(
			"lower than the plan's skyline",
		);
		// Without tiles nobody knows how near.
		expect(lodebook("landmarks", map, "--plan", walls)).toMatchObject({ status: 2 });
	});

	test("what is told while writing is what the plan then shows: the tiles' elevation of the spot is written too", () => {
		const tile = join(folder, "N46E009.hgt");
		const heights = Buffer.alloc(2 * 1201 * 1201);
		for (let i = 0; i < heights.length; i += 2) heights.writeInt16BE(400, i);
		writeFileSync(tile, heights);
		const text = "# mine\nsite:\n  name: plain\n  latitude: 46.5 N # read off\n  longitude: 9.5 E\n";
		const plan = file("low.lode.yaml", text);
		const map = file("low.gpx", '<gpx><wpt lat="46.5" lon="9.5467"><ele>700.4</ele><name>hill</name></wpt></gpx>');
		const write = ["landmarks", map, "--plan", plan, "--terrain", tile, "--write"];
		const { status, stderr } = lodebook(...write);
		expect(status).toBe(0);
		expect(stderr).toContain("400 m is written, from the tiles");
		const told = /^hill: bearing .*, altitude (\d+\.\d+)°/m.exec(stderr)?.[1];
		// 46.5° N, 0.0467° of longitude: 3.58 km; atan((300 − 0.87 d² / 2R) / d) = 4.77°.
		expect(Number(told)).toBeCloseTo(4.8, 1);
		expect(parse(readFileSync(plan, "utf8")).site.elevation).toBe("400 m");
		expect(readFileSync(plan, "utf8")).toContain("latitude: 46.5 N # read off");
		expect(lodebook("show", plan).stdout).toMatch(/hill[\s\S]*4\.7\d*°/);
		const once = readFileSync(plan, "utf8");
		expect(lodebook(...write).status).toBe(0);
		expect(readFileSync(plan, "utf8")).toBe(once);
		// Landmarks that an earlier run left without the site's elevation.
		writeFileSync(plan, once.replace(/ *elevation: 400 m\n/, ""));
		expect(lodebook(...write)).toMatchObject({ status: 0, stderr: expect.stringContaining("400 m is written") });
		expect(readFileSync(plan, "utf8")).toBe(once);
		const flow = file("flow.lode.yaml", "site: { name: plain, latitude: 46.5 N, longitude: 9.5 E }\n");
		expect(lodebook("landmarks", map, "--plan", flow, "--terrain", tile, "--write").status).toBe(0);
		expect(parse(readFileSync(flow, "utf8")).site).toMatchObject({ elevation: "400 m", landmarks: [{ name: "hill" }] });
	});

	test("an elevation that is not that of the tiles' ground is said, and nothing is written or left out on it unsaid", () => {
		const tile = join(folder, "N51E009.hgt");
		const heights = Buffer.alloc(2 * 1201 * 1201);
		for (let i = 0; i < heights.length; i += 2) heights.writeInt16BE(800, i);
		writeFileSync(tile, heights);
		const text = "site:\n  name: plain\n  latitude: 51.5 N\n  longitude: 9.5 E\n  elevation: 0 m\n";
		const plan = file("sunk.lode.yaml", text);
		const map = file("sunk.gpx", '<gpx><wpt lat="51.5" lon="9.5467"><ele>900</ele><name>hill</name></wpt></gpx>');
		const seen = lodebook("landmarks", map, "--plan", plan, "--terrain", tile);
		expect(seen.stderr).toMatch(
			/^The elevation given, 0 m, and that of the tiles, 800 m, differ .*\n.*landmarks may be listed or left out wrongly/,
		);
		const write = lodebook("landmarks", map, "--plan", plan, "--terrain", tile, "--write");
		expect(write).toMatchObject({
			status: 2,
			stderr: expect.stringContaining("is not written: correct its elevation"),
		});
		expect(readFileSync(plan, "utf8")).toBe(text);
	});

	test("without tiles and without the site's elevation, that 0 m was taken is told", () => {
		const plan = file("zero.lode.yaml", SITE.replace(/\n.*elevation.*/, "\n"));
		const { stderr } = lodebook("landmarks", file("z.gpx", GPX), "--plan", plan);
		expect(stderr).toMatch(/^The plan gives no elevation: the altitudes are computed from 0 m\./m);
	});
});

test.each([
	[
		"entities",
		`<!DOCTYPE gpx [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;">]><gpx><wpt lat="1" lon="1"><name>&b;</name></wpt></gpx>`,
		"document type",
	],
	["an entity that nobody declared", `<gpx>\n<wpt lat="1" lon="1"><name>&b;</name></wpt></gpx>`, "line 2"],
	["a file that is cut off", `<gpx><wpt lat="1" lon="1"><name>x`, "not well-formed"],
	["nesting", `<gpx>${"<a>".repeat(100_000)}`, "not well-formed"],
	[
		"nested collections",
		`${'{"type":"GeometryCollection","geometries":['.repeat(5000)}${"]}".repeat(5000)}`,
		"no points",
	],
	["other XML", "<svg></svg>", "not GPX, KML or GeoJSON"],
	["other JSON", '{"a":1}', "not GeoJSON"],
	["half JSON", '{"type":"Feature"', "not JSON"],
	["an archive", "PK\u0003\u0004aaaa", "unpack"],
	[
		"a long name",
		`<gpx><wpt lat="1" lon="1"><name>${"x".repeat(200_000)}</name></wpt></gpx>`,
		"its one point cannot be used",
	],
	["too many points", `<gpx>${'<wpt lat="1" lon="1"/>'.repeat(20_001)}</gpx>`, "more than 20,000"],
	["no points", "<gpx></gpx>", "no points"],
])("%s: refused with the reason, within bounds", (_, text, why) => {
	const answer = lodebook("landmarks", file("hostile", text), "--plan", file("h.lode.yaml", `${SITE}\n`));
	expect(answer).toMatchObject({ status: 2, stdout: "", stderr: expect.stringContaining(why) });
	expect(answer.stderr).not.toMatch(/ at .*\.ts|node:internal/);
});
