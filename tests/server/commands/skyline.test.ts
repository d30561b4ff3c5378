import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { lodebook } from "./run.ts";

const table = (text: string): string => {
	const path = join(mkdtempSync(join(tmpdir(), "lodebook-")), "walls.csv");
	writeFileSync(path, text);
	return path;
};

test("a compass survey becomes true bearings, sorted; a bad line is named", () => {
	const survey = table("# walls\nbearing;altitude\n120;18,5\n350;4\n10;5\n");
	expect(lodebook("skyline", survey).stdout).toBe("skyline: [[10, 5], [120, 18.5], [350, 4]]\n");
	expect(lodebook("skyline", survey, "--declination", "12.5").stdout).toBe(
		"skyline: [[2.5, 4], [22.5, 5], [132.5, 18.5]]\n",
	);
	expect(lodebook("skyline", table("10, 5\n370, 4\n"))).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("line 2: expected a bearing from 0° to 360°, found 370°"),
	});
	expect(lodebook("skyline", table("10, 5, 6\n")).status).toBe(2);
	expect(lodebook("skyline", table("\n")).status).toBe(2);
});

test("degrees with minutes are read; a decimal comma between commas and two declinations are refused with the reason", () => {
	expect(lodebook("skyline", table("10° 30′, 5\n120, -1° 30' 36\"\n")).stdout).toBe(
		"skyline: [[10.5, 5], [120, -1.51]]\n",
	);
	expect(lodebook("skyline", table("0,52,5\n90,3,5\n"))).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("found 3. With a decimal comma, put a semicolon between the values: 0; 52,5"),
	});
	expect(lodebook("skyline", table("0,52,5,skyline\n"))).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("With a decimal comma, put a semicolon"),
	});
	expect(lodebook("skyline", table("1, 2, 3\n")).stderr).not.toContain("decimal comma");
	expect(
		lodebook("skyline", "--photo", table("9,9,mark,a,10,5\n20,20,skyline\n"), "--size", "600x400").stderr,
	).toContain("1 mark is too few; 3 are needed");
	expect(lodebook("skyline", table("1, 2\n"), "--declination", "2", "--magnetic", "a.lode.yaml")).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("--declination <degrees> and --magnetic <plan> exclude each other."),
	});
});

describe("from elevation tiles", () => {
	/** A plain of 500 m with a wall of 1,500 m along the parallel 5 km to the north of 46.5° N. */
	const folder = mkdtempSync(join(tmpdir(), "lodebook-tiles-"));
	const heights = Buffer.alloc(2 * 1201 * 1201);
	for (let row = 0; row < 1201; row++)
		for (let column = 0; column < 1201; column++)
			heights.writeInt16BE(row < 546 ? 1500 : 500, 2 * (row * 1201 + column));
	writeFileSync(join(folder, "N46E008.hgt"), heights);
	const place = ["--latitude", "46.5 N", "--longitude", "8.5 E", "--reach", "20 km"];

	test("the key says where it is from, can stand in a plan, and has the wall where it is", () => {
		const { stdout, stderr, status } = lodebook("skyline", "--terrain", folder, ...place);
		expect(status).toBe(0);
		expect(stdout).toMatch(/^# Ground from elevation tiles, seen from 502 m/);
		expect(stdout).toMatch(/^# It has no trees, walls, arches or roofs/m);
		expect(stderr).toBe("");
		const { skyline } = parse(stdout) as { skyline: [number, number][] };
		const highest = Math.max(...skyline.map(([, altitude]) => altitude));
		// The crest is 55 heights of 3″ away: 5,094 m by M = 6,367.4 km; (1500 − 501.7 − 0.87 d² / 2R) / d.
		expect(highest).toBeCloseTo((Math.atan((998.3 - (0.87 * 5094 ** 2) / 2 / 6_371_000) / 5094) * 180) / Math.PI, 1);
		const plan = `site:\n  name: plain\n  latitude: 46.5 N\n  longitude: 8.5 E\n${stdout.replace(/^/gm, "  ").trimEnd()}\n`;
		const path = join(folder, "plain.lode.yaml");
		writeFileSync(path, `format: 1\n---\n${plan}`);
		expect(lodebook("check", path).stdout).not.toMatch(/site\//);
	});

	test("a landmark behind the wall, an elevation that is far off, and a missing neighbour are said", () => {
		const path = join(folder, "marks.lode.yaml");
		writeFileSync(
			path,
			`site:
  name: plain
  latitude: 46.5 N
  longitude: 8.5 E
  elevation: 620 m
  landmarks:
    - { name: mast, latitude: 46.62 N, longitude: 8.5 E, elevation: 1520 m }
    - { name: barn, latitude: 46.48 N, longitude: 8.5 E, elevation: 505 m }
`,
		);
		const { stderr } = lodebook("skyline", "--terrain", join(folder, "N46E008.hgt"), "--plan", path);
		expect(stderr).toMatch(/^The elevation given, 620 m, and that of the tiles, 500 m, differ/m);
		expect(stderr).toMatch(/^mast, 13 km away, is hidden by the ground at 5\.1 km\./m);
		expect(stderr).not.toMatch(/^barn/m);
		// The tile's edge is 55.6 km away to the north and to the south, 38.4 km to the east and to the west,
		// 67.6 km to its corners; noted every 250 m.
		expect(stderr).toMatch(
			/^At all bearings the tiles cover the ground without a gap only as far as 39 km \(at 8\d°\) to 68 km: ground beyond that may be missing from the skyline\.$/m,
		);
		expect(stderr).toMatch(
			/^Ground as far as 100 km is on these tiles too, where there is land: N46E00[79], N46E00[79], .*N45E008/m,
		);
	});

	test("written into a plan in place of the skyline and of what was said of it, with the elevation; twice is once", () => {
		const path = join(folder, "written.lode.yaml");
		writeFileSync(
			path,
			"site:\n  name: plain\n  latitude: 46.5 N\n  longitude: 8.5 E\n  # all round\n  skyline: [[0, 1], [180, 2]] # by eye\n  place: [open]\n",
		);
		const write = ["skyline", "--terrain", folder, "--plan", path, "--reach", "20 km", "--write"];
		const asItWas = readFileSync(path, "utf8");
		expect(lodebook(...write)).toMatchObject({
			status: 2,
			stderr: expect.stringMatching(
				/is not written: its site has a skyline already, of 2 points, the highest at 2(\.0+)?° at bearing 180\.0°\. .*--replace/,
			),
		});
		expect(readFileSync(path, "utf8")).toBe(asItWas);
		const { status, stdout, stderr } = lodebook(...write, "--replace");
		expect([status, stdout]).toEqual([0, ""]);
		expect(stderr).toMatch(/^Replaced: the site's skyline of 2 points, the highest at 2/m);
		expect(stderr).toContain("its site has this now: skyline.");
		expect(stderr).toContain("It had no elevation; 500 m is written");
		const text = readFileSync(path, "utf8");
		expect(text).not.toContain("by eye");
		expect(text).toMatch(
			/^site:\n {2}name: plain\n {2}elevation: 500 m\n {2}latitude: 46\.5 N\n {2}longitude: 8\.5 E\n {2}# all round\n {2}# Ground from elevation tiles, seen from 502 m .*\n {2}# It has no trees.*\n {2}skyline: \[\[/,
		);
		expect(text.endsWith("]]\n  place: [open]\n")).toBe(true);
		expect(lodebook(...write).status).toBe(0);
		const again = readFileSync(path, "utf8");
		expect(again.match(/Ground from elevation tiles/g)).toHaveLength(1);
		expect(parse(again).site.skyline).toEqual(parse(text).site.skyline);
	});

	test("an elevation that is not that of the tiles' ground writes no skyline, until somebody says which holds", () => {
		const path = join(folder, "zero.lode.yaml");
		const text =
			"site:\n  name: plain\n  latitude: 46.5 N\n  longitude: 8.5 E\n  elevation: 449 m\n  skyline: [[0, 0]]\n";
		writeFileSync(path, text);
		const write = ["skyline", "--terrain", folder, "--plan", path, "--reach", "20 km", "--write"];
		expect(lodebook(...write)).toMatchObject({
			status: 2,
			stderr: expect.stringMatching(
				/is not written: its elevation, 449 m, and the ground of the tiles there, 500 m, .*--elevation '500 m'/,
			),
		});
		expect(readFileSync(path, "utf8")).toBe(text);
		expect(lodebook(...write, "--elevation", "449 m")).toMatchObject({
			status: 0,
			stderr: expect.stringContaining("differ by more than 50 m"),
		});
		expect(readFileSync(path, "utf8")).toContain("seen from 451 m");
		writeFileSync(path, text.replace("449", "451"));
		expect(lodebook(...write).status).toBe(0);
		expect(readFileSync(path, "utf8")).toContain("seen from 453 m");
	});

	test("a site from another file is given the tiles' elevation beside it, once", () => {
		writeFileSync(
			join(folder, "sites.lode.yaml"),
			"site:\n  name: plain\n  latitude: 46.5 N\n  longitude: 8.5 E\n  timezone: Europe/Zurich\n",
		);
		const path = join(folder, "takes.lode.yaml");
		writeFileSync(path, "site:\n  from: sites.lode.yaml\n");
		const write = ["skyline", "--terrain", folder, "--plan", path, "--reach", "20 km", "--write"];
		expect(lodebook(...write)).toMatchObject({ status: 0, stderr: expect.stringContaining("500 m is written") });
		expect(parse(readFileSync(path, "utf8")).site.elevation).toBe("500 m");
		expect(lodebook(...write).stderr).not.toContain("is written");
	});

	/** A folder with that tile changed. */
	const changed = (change: (bytes: Buffer) => void): string => {
		const other = mkdtempSync(join(tmpdir(), "lodebook-tiles-"));
		const bytes = Buffer.from(heights);
		change(bytes);
		writeFileSync(join(other, "N46E008.hgt"), bytes);
		return other;
	};

	test("one height that no ground has makes no needle in the skyline, and its place is told", () => {
		// 600 heights of 3″ east, 700 south of the corner.
		const spiked = changed((bytes) => bytes.writeInt16BE(32_767, 2 * (700 * 1201 + 600)));
		const { stdout, stderr, status } = lodebook("skyline", "--terrain", spiked, ...place);
		expect(status).toBe(0);
		expect(stderr).toMatch(
			/^1 height of the tiles cannot be ground, such as 32,767 m at 46\.4167 N, 8\.5 E in .*N46E008\.hgt: treated as missing\.$/m,
		);
		expect(stdout).toBe(lodebook("skyline", "--terrain", folder, ...place).stdout);
	});

	test.each([
		[
			"bytes the other way round",
			(bytes: Buffer) => bytes.swap16(),
			/N46E008\.hgt: its heights have their two bytes the other way round: −[\d,]+ m should be [\d,]+ m\./,
		],
		[
			"a tile without heights",
			(bytes: Buffer) => bytes.fill(Buffer.from([0x80, 0])),
			/N46E008\.hgt, on which 46\.5 N, 8\.5 E is, holds no heights/,
		],
		[
			"a gap at the spot",
			(bytes: Buffer) => bytes.fill(Buffer.from([0x80, 0]), 2 * 1201 * 590, 2 * 1201 * 610),
			/N46E008\.hgt has no height at 46\.5 N, 8\.5 E, where/,
		],
		[
			"another unit",
			(bytes: Buffer) => {
				for (let i = 0; i < bytes.length; i += 2) bytes.writeInt16BE(15_000 + (i % 99), i);
			},
			/N46E008\.hgt: 1,442,401 of its 1,442,401 heights are not from −500 to 9,000 m, as ground is: 15,000 m at 47 N, 8 E\./,
		],
	])("%s: refused with the file and what it is", (_, change, why) => {
		const { stdout, stderr, status } = lodebook("skyline", "--terrain", changed(change), ...place);
		expect([status, stdout]).toEqual([2, ""]);
		expect(stderr).toMatch(why);
		expect(stderr).not.toContain("no tile covers");
	});

	test("a tile that cannot be used is named, the others go on, and the exit status says so", () => {
		const other = changed(() => {});
		writeFileSync(join(other, "N46E009.hgt"), Buffer.alloc(999));
		writeFileSync(join(other, "N45E008.hgt.gz"), "not packed");
		const { stdout, stderr, status } = lodebook(
			"skyline",
			"--terrain",
			other,
			...place.slice(0, 4),
			"--reach",
			"60 km",
		);
		expect(status).toBe(2);
		expect(parse(stdout).skyline.length).toBeGreaterThan(3);
		expect(stderr).toMatch(/^Left out, as it cannot be used: .*N46E009\.hgt: 999 bytes are not a \.hgt tile/m);
		expect(stderr).toMatch(/^Left out, as it cannot be used: .*N45E008\.hgt\.gz: it cannot be unpacked/m);
		expect(stderr.match(/999 bytes/g)).toHaveLength(1);
		// Written all the same; what is not known behind the edge is told.
		const path = join(other, "plan.lode.yaml");
		writeFileSync(path, "site:\n  name: plain\n  latitude: 46.5 N\n  longitude: 8.5 E\n");
		const written = lodebook("skyline", "--terrain", other, "--plan", path, "--reach", "60 km", "--write");
		expect(written).toMatchObject({ status: 2, stderr: expect.stringContaining("999 bytes") });
		expect(readFileSync(path, "utf8")).toContain("skyline:");
	});

	test("more bytes than a tile has are not called an incomplete download", () => {
		const other = mkdtempSync(join(tmpdir(), "lodebook-tiles-"));
		writeFileSync(join(other, "N46E008.hgt"), Buffer.alloc(2 * 3602 * 3602));
		const { status, stderr } = lodebook("skyline", "--terrain", other, ...place);
		expect(status).toBe(2);
		expect(stderr).toMatch(/25,948,808 bytes are more than a \.hgt tile has/);
	});

	test.each([
		[["--terrain", join(tmpdir(), "no-such-tiles"), ...place], "there is no such file or folder"],
		[["--terrain", folder, "--latitude", "45.5 N", "--longitude", "8.5 E"], "N45E008.hgt"],
		[["--terrain", folder], "--latitude and --longitude, or --plan"],
		[["--terrain", folder, "--latitude", "95 N", "--longitude", "8.5 E"], "--latitude"],
		[["--terrain", folder, ...place.slice(0, 4), "--reach", "1 m"], "between 1 km and 300 km"],
		[
			["--terrain", folder, "--latitude", "8.5", "--longitude", "46.5"],
			"With latitude and longitude swapped, the tiles would cover it: are the two the wrong way round?",
		],
		[["--terrain", folder, ...place, "--eye-height", "170"], "Alone, 170 is metres, which is not likely here"],
		[["--terrain", folder, ...place.slice(0, 4), "--reach", "20"], "Alone, 20 is metres"],
		[["--latitude", "46.5 N"], "goes with --terrain"],
		[["--terrain", folder, ...place, "--write"], "--write needs --plan"],
		[[table("1, 2\n"), "--plan", "a.lode.yaml"], "--plan goes with --terrain or --write"],
		[
			["--terrain", fileURLToPath(new URL("../../terrain/tiles/zstd.tif", import.meta.url)), ...place],
			"packed as zstd",
		],
		[[], "--terrain"],
	])("%j is refused", (args, why) => {
		const { status, stderr, stdout } = lodebook("skyline", ...args);
		expect([status === 0, stdout, stderr]).toEqual([false, "", expect.stringContaining(why)]);
	});
});

describe("a survey written into a plan", () => {
	const PLAN = `site:
  name: ruin
  latitude: 46.5 N
  longitude: 8.5 E
  skyline: [[0, 1], [90, 2], [180, 3], [270, 4]] # by eye
  openings:
    - { name: door, outline: [[10, 0], [20, 0], [15, 9]] } # by eye
    - { name: gate, outline: [[40, 0], [50, 0], [45, 9]] } # measured
`;
	const written = (survey: string, text = PLAN, ...more: readonly string[]) => {
		const path = join(mkdtempSync(join(tmpdir(), "lodebook-")), "ruin.lode.yaml");
		writeFileSync(path, text);
		const { status, stderr } = lodebook("skyline", table(survey), "--plan", path, "--write", ...more);
		return { status, stderr, text: readFileSync(path, "utf8") };
	};

	test("all round, it takes the place of the old one and of its comment", () => {
		const survey = "0, 5\n80, 6\n160, 7\n240, 8\n320, 9\n";
		expect(written(survey)).toMatchObject({
			status: 2,
			stderr: expect.stringContaining("of 4 points, the highest at 4"),
			text: PLAN,
		});
		const { text, stderr } = written(survey, PLAN, "--replace");
		expect(stderr).toContain("Replaced: the site's skyline of 4 points");
		expect(parse(text).site.skyline).toEqual([
			[0, 5],
			[80, 6],
			[160, 7],
			[240, 8],
			[320, 9],
		]);
		expect(text).toContain("  # From a survey (walls.csv); true bearings.\n  skyline:");
		expect(text).not.toMatch(/skyline.*by eye/);
	});

	test("written again, where it is from is said once", () => {
		const text = `${PLAN}  obstructions:\n    - { name: tree, outline: [[60, 0], [70, 0], [65, 9]] }\n`;
		const survey = [
			"340, 12, skyline",
			"20, 15, skyline",
			"100, 0, opening, gully",
			"110, 0, opening, gully",
			"105, 9, opening, gully",
			"200, 0, obstruction, mast",
			"201, 0, obstruction, mast",
			"200, 9, obstruction, mast",
		].join("\n");
		const once = written(survey, text);
		const twice = written(survey.replace("105, 9", "105, 8"), written(survey, once.text).text);
		expect([once.status, twice.status]).toEqual([0, 0]);
		for (const what of ["# gully: From a survey", "# mast: From a survey", "  # From a survey"])
			expect([what, twice.text.split(what).length - 1]).toEqual([what, 1]);
		expect(parse(twice.text).site.openings).toHaveLength(3);
	});

	test("of a part, the rest stays, and so does what was said of it", () => {
		const { text, stderr } = written("340, 12\n20, 15\n");
		const { skyline } = parse(text).site as { skyline: [number, number][] };
		expect(skyline).toEqual(
			expect.arrayContaining([
				[340, 12],
				[20, 15],
				[90, 2],
				[180, 3],
				[270, 4],
			]),
		);
		expect(skyline).not.toContainEqual([0, 1]);
		expect(text).toContain("  # Where that has nothing, as before: by eye\n  skyline:");
		expect(stderr).toContain("traced over 40° of bearings; elsewhere the plan's own is kept");
	});

	test("an opening that is there has its new outline, another is added, a third stays", () => {
		const { text, stderr } = written(
			"11, 0, opening, door\n21, 0, opening, door\n16, 8, opening, door\n70, 0, opening, hole\n80, 0, opening, hole\n75, 9, opening, hole\n",
		);
		expect(stderr).toContain("has this now: `door`, `hole`.");
		expect(parse(text).site.openings).toEqual([
			{ name: "door", outline: [[11, 0], [21, 0], [16, 8]] }, // biome-ignore format: one line
			{ name: "gate", outline: [[40, 0], [50, 0], [45, 9]] }, // biome-ignore format: one line
			{ name: "hole", outline: [[70, 0], [80, 0], [75, 9]] }, // biome-ignore format: one line
		]);
		expect(text).toContain("# door: From a survey (walls.csv); true bearings.");
		expect(text.match(/by eye/g)).toHaveLength(1);
		expect(text).toContain("[45, 9]] } # measured");
		expect(parse(text).site.skyline).toHaveLength(4);
	});

	test.each([
		["0, 0, opening, x\n10, 10, opening, x\n10, 0, opening, x\n0, 10, opening, x\n", PLAN, "crosses itself"],
		["0, 5\n", "format: 1\n", "no site"],
		["0, 5\n", "site: &a\n  <<: *a\n", "by hand"],
	])("what cannot be is refused, and the plan stays: %j", (survey, plan, why) => {
		const { status, stderr, text } = written(survey, plan);
		expect([status, stderr, text]).toEqual([2, expect.stringContaining(why), plan]);
	});
});
