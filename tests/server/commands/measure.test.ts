import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { jpegOf } from "../../frames/files.ts";
import { scene, writeRun } from "../../frames/run.ts";
import { chapel, lodebook } from "./run.ts";

const folder = mkdtempSync(join(tmpdir(), "lodebook-measure-"));
afterAll(() => rmSync(folder, { recursive: true }));

let files: readonly [string, string];

beforeAll(() => {
	files = writeRun(folder);
});

test("two frames of a run tell the axis, what to turn, and the log's entry", { timeout: 120_000 }, () => {
	const picture = join(folder, "found.svg");
	const { status, stdout, stderr } = lodebook("measure", chapel, ...files, "--svg", picture);
	expect(stderr).toBe("");
	expect(status).toBe(0);
	expect(stdout).toContain("first.jpg, 21:00, exposed for 60 s");
	expect(stdout).toMatch(/core over the gable is aimed at/);
	expect(stdout).toMatch(
		/Facing the pole: raise the tilt by 0\.4\d?° ± 0\.0\d°, turn the pan left by 0\.9\d?° ± 0\.\d+°\./,
	);
	expect(stdout).toContain("That is within the 2.1° that the plan's method promises 19 times in 20.");
	expect(stdout).toMatch(/may be exposed for \d+ min \d+ s|may be exposed for \d+ s/);
	expect(readFileSync(picture, "utf8")).toMatch(/^<svg .*first\.jpg: \d+ stars/s);

	// The entry, put into the plan, gives the same axis there.
	const entry = stdout.slice(stdout.indexOf("For the log:\n") + "For the log:\n".length);
	const plan = join(folder, "logged.lode.yaml");
	writeFileSync(plan, `${readFileSync(chapel, "utf8").trimEnd()}\n---\nlog:\n${entry}`);
	expect(lodebook("check", plan).stdout).toContain("no problems found");
	const shown = JSON.parse(lodebook("show", plan, "--json").stdout);
	const figures = shown.cells.flatMap(({ figures: list = [] }: { figures?: { id: string; value: number }[] }) => list);
	const figureOf = (id: string): number => figures.find((one: { id: string }) => one.id === id)?.value;
	expect(figureOf("log.axis-error-along")).toBeCloseTo(-0.4, 1);
	expect(figureOf("log.axis-error-across")).toBeCloseTo(0.76, 1);
});

test("JSON holds every number", { timeout: 120_000 }, () => {
	const { status, stdout } = lodebook("measure", chapel, ...files, "--facing", "110°", "--json");
	expect(status).toBe(0);
	const { version, frames, axis, clock, solvedLens } = JSON.parse(stdout);
	expect(version).toBe(1);
	expect(frames).toHaveLength(2);
	expect(frames[0]).toMatchObject({ name: "first.jpg", identified: true, exposure: 60, target: "core over the gable" });
	expect(Math.abs(axis.along + 0.4)).toBeLessThan(0.05);
	expect(Math.abs(axis.across - 0.76)).toBeLessThan(0.05);
	expect(Math.abs(axis.turn - 3.76)).toBeLessThan(0.1);
	expect(axis.inside).toBe(true);
	expect(clock).toMatchObject({ frame: "first.jpg", facing: 110 });
	expect(Math.abs(clock.ahead)).toBeLessThan(0.05 * clock.perDegree);
	expect(Math.abs(solvedLens.focalLength / 24.1 - 1)).toBeLessThan(0.001);
});

test("the log is written where that is asked for", { timeout: 120_000 }, () => {
	const plan = join(folder, "written.lode.yaml");
	writeFileSync(plan, readFileSync(chapel));
	const { status, stderr } = lodebook("measure", plan, ...files, "--write");
	expect(stderr).toMatch(/written\.lode\.yaml: the two frames are now in the log\./);
	expect(status).toBe(0);
	expect(readFileSync(plan, "utf8")).toMatch(
		/\n {2}- date: 2027-06-05\n {4}solved:\n(?: {6}- \{ at: "21:\d\d", .*\}\n){2}/,
	);
	expect(lodebook("check", plan).stdout).not.toMatch(/error/);
	const again = lodebook("measure", plan, ...files, "--write");
	expect(again.status).toBe(2);
	expect(again.stderr).toMatch(/has these two frames already/);
	const alone = lodebook("measure", plan, files[0], "--write");
	expect(alone.status).toBe(2);
	expect(alone.stderr).toMatch(/nothing to write, the axis needs two frames/);
});

test("the lens is written where that is asked for, and frames count from it then", { timeout: 120_000 }, () => {
	const plan = join(folder, "lens.lode.yaml");
	writeFileSync(plan, readFileSync(chapel));
	const { status, stderr } = lodebook("measure", plan, ...files, "--write-lens");
	expect(stderr).toMatch(/lens\.lode\.yaml: focal length and distortion are now in the lens cell\./);
	expect(status).toBe(0);
	const text = readFileSync(plan, "utf8");
	expect(text).toMatch(/\n *focal-length: 24\.1\d? mm\n *distortion: \{ k1: -0\.0\d+, k2: [-\d.]+ \}\n/);
	expect(lodebook("check", plan).stdout).not.toMatch(/error/);
});

test("what cannot be measured is said", { timeout: 120_000 }, () => {
	const wall = join(folder, "wall.jpg");
	const light = new Uint16Array(2400 * 1600).map((_, i) => 9000 + 4000 * Math.sin(i / 50) * Math.cos(i / 120_000));
	writeFileSync(wall, jpegOf(scene, light, 80));
	const untimed = lodebook("measure", chapel, wall);
	expect(untimed.status).toBe(2);
	expect(untimed.stderr).toMatch(/wall\.jpg: the file does not say when it was taken\. Give the clock time/);
	const given = lodebook("measure", chapel, wall, "--at", "21:00", "--exposure", "60");
	expect(given.status).toBe(1);
	expect(given.stdout).toMatch(/spots that may be stars/);
	expect(lodebook("measure", chapel, chapel).stderr).toMatch(/it is not a JPEG, PNG or TIFF file/);
	expect(lodebook("measure", chapel, files[0], "--lens", "long").stderr).toMatch(/no lens called long/);
	expect(lodebook("measure", chapel, files[0], "--target", "moon").stderr).toMatch(/no target called moon/);
	expect(lodebook("measure", chapel, files[0], "--facing", "400").stderr).toMatch(/Write a bearing from 0 to 360/);
	expect(lodebook("measure", chapel, ...files, "--at", "21:00").stderr).toMatch(
		/such as --at 21:00 --at 21:15: there are 2 frames and 1 times/,
	);
	expect(lodebook("measure", chapel, join(folder, "none.jpg")).stderr).toMatch(/there is no such file/);
});
