import { mkdtempSync, writeFileSync } from "node:fs";
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
		expect(stdout).toMatch(/^# Ground by elevation tiles, seen from 502 m/);
		expect(stdout).toMatch(/^# No trees, walls, arches or roofs/m);
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
		expect(stderr).toMatch(/^The elevation given, 620 m, and the tiles', 500 m, differ/m);
		expect(stderr).toMatch(/^mast, 13 km away, is hidden by the ground at 5\.1 km\./m);
		expect(stderr).not.toMatch(/^barn/m);
		expect(stderr).toMatch(/^At bearings .* the tiles know the ground to \d+ km only/m);
	});

	test.each([
		[["--terrain", join(tmpdir(), "no-such-tiles"), ...place], "there is no such file or folder"],
		[["--terrain", folder, "--latitude", "45.5 N", "--longitude", "8.5 E"], "N45E008.hgt"],
		[["--terrain", folder], "--latitude and --longitude, or --plan"],
		[["--terrain", folder, "--latitude", "95 N", "--longitude", "8.5 E"], "--latitude"],
		[["--terrain", folder, ...place.slice(0, 4), "--reach", "1 m"], "between 1 km and 300 km"],
		[["--latitude", "46.5 N"], "goes with --terrain"],
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
