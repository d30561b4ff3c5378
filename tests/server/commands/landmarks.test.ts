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
	expect(stderr).toMatch(/^1 point farther than 100 km: left out\.$/m);
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
	expect(again).toMatchObject({ status: 2, stderr: expect.stringContaining("the plan has a landmark of that name") });
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
		expect(stderr).toMatch(/^behind: left out; 13 km away, it is hidden by the ground at 5\.\d km\.$/m);
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
	["a long name", `<gpx><wpt lat="1" lon="1"><name>${"x".repeat(200_000)}</name></wpt></gpx>`, "none of its 1 points"],
	["too many points", `<gpx>${'<wpt lat="1" lon="1"/>'.repeat(20_001)}</gpx>`, "more than 20,000"],
	["no points", "<gpx></gpx>", "no points"],
])("%s: refused with the reason, within bounds", (_, text, why) => {
	const before = performance.now();
	const answer = lodebook("landmarks", file("hostile", text), "--plan", file("h.lode.yaml", `${SITE}\n`));
	expect(answer).toMatchObject({ status: 2, stdout: "", stderr: expect.stringContaining(why) });
	expect(answer.stderr).not.toMatch(/ at .*\.ts|node:internal/);
	expect(performance.now() - before).toBeLessThan(10_000);
});
