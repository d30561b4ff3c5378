import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { lodebook } from "./run.ts";

const folder = mkdtempSync(join(tmpdir(), "lodebook-photo-"));
const file = (name: string, text: string): string => {
	const path = join(folder, name);
	writeFileSync(path, text);
	return path;
};

const RAD = Math.PI / 180;

/**
 * An exact camera of its own: level coordinates turned by bearing, altitude and roll one after the other. 6000 × 4000
 * pixels, 4,000 pixels a radian, rectilinear, facing 205°, 28° up, held 6° clockwise.
 */
function shot(bearing: number, altitude: number): string {
	const [b, a] = [(bearing - 205) * RAD, altitude * RAD];
	const right = Math.cos(a) * Math.sin(b);
	const ahead = Math.cos(a) * Math.cos(b);
	const up = Math.sin(a);
	const [c, s] = [Math.cos(28 * RAD), Math.sin(28 * RAD)];
	const [forward, over] = [ahead * c + up * s, up * c - ahead * s];
	const [rc, rs] = [Math.cos(6 * RAD), Math.sin(6 * RAD)];
	const [x, y] = [right * rc - over * rs, right * rs + over * rc];
	return `${(3000 + (4000 * x) / forward).toFixed(1)}, ${(2000 - (4000 * y) / forward).toFixed(1)}`;
}

const outline = [
	[186, 4],
	[187, 25],
	[198, 41],
	[214, 42],
	[224, 26],
	[225, 5],
] as const;
const window = [
	[192, 4],
	[193, 22],
	[201, 33],
	[211, 33],
	[218, 21],
	[219, 5],
] as const;
const ground = [
	[183, 6],
	[190, 3.5],
	[204, 2.2],
	[216, 3.1],
	[227, 7],
] as const;
const trace = (what: string, name: string, points: readonly (readonly [number, number])[]): string =>
	points.map(([b, a]) => `${shot(b, a)}, ${what}, ${name}\n`).join("");
const marks = `x, y, what, name, bearing, altitude
${shot(190, 3)}, mark, cairn, 190, 3
${shot(222, 8)}, mark, far tower, 222, 8
${shot(207, 38)}, mark, Antares, 207, 38
`;
const arch = `${marks}${trace("obstruction", "arch", outline)}${trace("window", "arch", window)}${trace("skyline", "", ground)}`;

const near = (found: readonly (readonly [number, number])[], wanted: readonly (readonly [number, number])[]): void => {
	expect(found.length).toBe(wanted.length);
	for (const [i, [bearing, altitude]] of wanted.entries()) {
		expect(Math.abs((found[i]?.[0] ?? Number.NaN) - bearing)).toBeLessThan(0.1);
		expect(Math.abs((found[i]?.[1] ?? Number.NaN) - altitude)).toBeLessThan(0.1);
	}
};

describe("a free-standing arch traced from a picture", () => {
	test.each([
		["three marks tell the field of view", []],
		["or it is given", ["--field", String((2 * Math.atan(3000 / 4000)) / RAD)]],
	])("to 0.1°: %s", (_, more) => {
		const path = file("arch.csv", arch);
		const { stdout, stderr, status } = lodebook("skyline", "--photo", path, "--size", "6000x4000", ...more);
		expect(status).toBe(0);
		expect(stdout).toMatch(/^# From a photo \(.*arch\.csv\): 3 marks, off by 0\.01° at most/);
		const site = parse(stdout);
		near(site.skyline, ground);
		expect(site.obstructions.map(({ name }: { name: string }) => name)).toEqual(["arch"]);
		near(site.obstructions[0].outline, outline);
		near(site.obstructions[0].window, window);
		expect(stderr).toContain("The camera looked at bearing 205.0°, altitude 28.0°; 73.7° across.");
		expect(stderr).toContain("The skyline is traced over 44° of bearings");
		// It can stand in a plan: the pole of the south is behind the arch, or in its window, as it is there.
		const plan = `site:\n  name: arch\n  latitude: 32.4 S\n  longitude: 54.3 W\n${stdout.replace(/^/gm, "  ").trimEnd()}\n`;
		expect(lodebook("check", file("arch.lode.yaml", plan)).stdout).not.toMatch(/structure\/(?!missing-cell)|site\//);
	});

	test("a mark whose bearing is wrong is named", () => {
		const four = arch.replace("x, y, what", `${shot(215, 30)}, mark, spire, 218.5, 30\nx, y, what`);
		const path = file("wrong.csv", four.replace(/^([^\n]*)\n(x, y, what[^\n]*)\n/, "$2\n$1\n"));
		const { stderr } = lodebook("skyline", "--photo", path, "--size", "6000x4000", "--field", "73.74");
		expect(stderr).toMatch(/^mark spire disagrees with the others by \d\.\d°/m);
		expect(stderr).not.toMatch(/^mark (?:cairn|Antares) disagrees/m);
	});

	test("compass bearings of marks are made true; a point of the level horizon is a mark", () => {
		const path = file(
			"compass.csv",
			`${shot(190, 3)}, mark, cairn, 200, 3\n${shot(222, 0)}, horizon\n${trace("obstruction", "arch", outline)}`,
		);
		const { stdout } = lodebook(
			"skyline",
			"--photo",
			path,
			"--size",
			"6000×4000",
			"--field",
			"73.7398",
			"--declination",
			"-10",
		);
		near(parse(stdout).obstructions[0].outline, outline);
	});
});

test.each([
	[arch, [], "--size"],
	[arch, ["--size", "6000"], "6000x4000"],
	[arch, ["--size", "600x400"], "outside the photo"],
	[marks, ["--size", "6000x4000"], "nothing is traced"],
	[marks.split("\n").slice(0, 3).join("\n"), ["--size", "6000x4000"], "3 are needed"],
	["1, 2\n", ["--size", "6000x4000"], "line 1: expected x, y, what"],
	["1, 2, tree, x\n", ["--size", "6000x4000"], "`tree` is not one of mark, horizon"],
	["1, 2, mark, x\n", ["--size", "6000x4000"], "the mark's bearing must be a number"],
	["1, 2, opening\n", ["--size", "6000x4000"], "needs a name"],
	[`${marks}100, 100, opening, a\n`, ["--size", "6000x4000"], "an outline has 3 to 500"],
	[`${marks}${trace("window", "a", window)}`, ["--size", "6000x4000"], "no obstruction of that name"],
	["1, 1, skyline\n".repeat(20_001), ["--size", "6000x4000"], "too many"],
])("a table that cannot be used is refused with the reason: %#", (text, more, why) => {
	const answer = lodebook("skyline", "--photo", file("bad.csv", text), ...more);
	expect([answer.status, answer.stdout, answer.stderr]).toEqual([2, "", expect.stringContaining(why)]);
});

test("a survey has openings and obstructions too, magnetic or true", () => {
	const survey = file(
		"survey.csv",
		`bearing, altitude, what, name
10, 5
100, 12, skyline
150, 0, opening, west window
210, 0, opening, west window
180, 45, opening, west window
40, 35; obstruction`.replace(
			"; obstruction",
			", obstruction, branch\n75, 50, obstruction, branch\n70, 30, obstruction, branch",
		),
	);
	const { stdout, stderr } = lodebook("skyline", survey, "--declination", "-10");
	expect(parse(stdout)).toEqual({
		skyline: [
			[0, 5],
			[90, 12],
		],
		openings: [
			{
				name: "west window",
				outline: [
					[140, 0],
					[200, 0],
					[170, 45],
				],
			},
		],
		obstructions: [
			{
				name: "branch",
				outline: [
					[30, 35],
					[65, 50],
					[60, 30],
				],
			},
		],
	});
	expect(stdout).toMatch(/^# From a survey \(.*survey\.csv\); true bearings\.\nskyline:/);
	expect(stderr).toContain("10.00° subtracted");
	expect(lodebook("skyline", file("b.csv", "10, 5, skyline\n370, 4, skyline\n"))).toMatchObject({
		status: 2,
		stderr: expect.stringContaining("line 2: expected a bearing from 0° to 360°, found 370°"),
	});
});
