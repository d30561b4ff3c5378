import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { render, type Scene } from "../../frames/camera.ts";
import { exifClock, exifOf, jpegOf } from "../../frames/files.ts";
import { chapel, lodebook } from "./run.ts";

const folder = mkdtempSync(join(tmpdir(), "lodebook-measure-"));
afterAll(() => rmSync(folder, { recursive: true }));

/** On the roofless chapel's evening, its axis 0.40° too low and 0.76° to the right. */
const at = Date.UTC(2027, 5, 6, 0, 0, 0);
const scene: Scene = {
	latitude: -32.4123,
	longitude: -54.3622,
	pressure: 1013.25 * (1 - 2.25577e-5 * 145) ** 5.25588,
	temperature: 10,
	at,
	framedAt: at,
	exposure: 60,
	azimuth: 110,
	altitude: 40,
	roll: 4,
	focal: 24.1,
	sensorWidth: 36,
	width: 2400,
	height: 1600,
	k1: -0.015,
	tracker: { along: -0.4, across: 0.76, periodic: { amplitude: 40 / 3600, period: 600, phase: 40 } },
	ground: (bearing) => 20 + 8 * Math.sin(bearing / 12),
	hotPixels: 60,
	satellites: 1,
	seed: 3,
};
const files = ["first.jpg", "second.jpg"].map((name) => join(folder, name)) as [string, string];

beforeAll(() => {
	for (const [i, path] of files.entries()) {
		const one = { ...scene, at: at + i * 900_000, seed: 3 + i };
		writeFileSync(path, jpegOf(one, render(one), 88, exifOf(exifClock(one.at - 30_000, -3), 60, 24)));
	}
});

test("two frames of a run tell the axis, what to turn, and the log's entry", { timeout: 120_000 }, () => {
	const picture = join(folder, "found.svg");
	const { status, stdout, stderr } = lodebook("measure", chapel, ...files, "--svg", picture);
	expect(stderr).toBe("");
	expect(status).toBe(0);
	expect(stdout).toContain("first.jpg, 21:00, exposed for 60 s");
	expect(stdout).toMatch(/core over the gable looks at/);
	expect(stdout).toMatch(
		/Facing the pole: raise the tilt by 0\.4\d?° ± 0\.0\d°, turn the pan left by 0\.9\d?° ± 0\.\d+°\./,
	);
	expect(stdout).toContain("That is inside the 2.1° that the plan's method promises 19 times in 20.");
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
	const { status, stdout } = lodebook("measure", chapel, ...files, "--json");
	expect(status).toBe(0);
	const { version, frames, axis, solvedLens } = JSON.parse(stdout);
	expect(version).toBe(1);
	expect(frames).toHaveLength(2);
	expect(frames[0]).toMatchObject({ name: "first.jpg", identified: true, exposure: 60, target: "core over the gable" });
	expect(Math.abs(axis.along + 0.4)).toBeLessThan(0.05);
	expect(Math.abs(axis.across - 0.76)).toBeLessThan(0.05);
	expect(Math.abs(axis.turn - 3.76)).toBeLessThan(0.1);
	expect(axis.inside).toBe(true);
	expect(Math.abs(solvedLens.focalLength / 24.1 - 1)).toBeLessThan(0.001);
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
	expect(lodebook("measure", chapel, ...files, "--at", "21:00").stderr).toMatch(/2 frames, 1 times/);
	expect(lodebook("measure", chapel, join(folder, "none.jpg")).stderr).toMatch(/there is no such file/);
});
