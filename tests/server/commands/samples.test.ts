/**
 * Samples whose site was measured: each is made here anew by the command line, from the small files in `tests/samples/`, and
 * must be the sample, byte for byte. `npx vitest run tests/server/commands/samples.test.ts -u` writes them.
 */
import { copyFileSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, test, vi } from "vitest";
import { fewerPoints } from "../../../shared/photo/fewer-points.ts";
import { archPhoto, CAIRN, groundEdge, PHOTO, placeOf, rockEdge, TOWER, windowEdge } from "../../photo/arch-photo.ts";
import { TILE, tileBytes } from "../../samples/ground.ts";
import { lodebook, runIn, samples } from "./run.ts";

vi.setConfig({ testTimeout: 300_000 });

const inputs = fileURLToPath(new URL("../../samples/", import.meta.url));

/** A folder with the plan as it was before anything was measured, and the commands that are run in it. */
function before(name: string, ...files: readonly string[]) {
	const folder = mkdtempSync(join(tmpdir(), "lodebook-made-"));
	const plan = `${name}.lode.yaml`;
	for (const file of [plan, ...files]) copyFileSync(join(inputs, file), join(folder, file));
	return {
		folder,
		run: (...args: readonly string[]): string => {
			const { status, stderr } = runIn(folder, ...args, "--plan", plan, "--write");
			expect([status, stderr]).toEqual([0, stderr]);
			return stderr;
		},
		is: async () => {
			const made = readFileSync(join(folder, plan), "utf8");
			await expect(made).toMatchFileSnapshot(join(samples, plan));
			expect(lodebook("check", join(samples, plan)).stdout).toContain("no problems found");
		},
	};
}

test("below-the-headwall: the skyline and its elevation from a tile, a landmark from a map", async () => {
	const { folder, run, is } = before("below-the-headwall", "summits.gpx");
	writeFileSync(join(folder, TILE), tileBytes());
	run("skyline", "--terrain", TILE, "--reach", "30 km");
	const told = run("landmarks", "summits.gpx", "--terrain", TILE);
	expect(told).toMatch(/^Summit of the headwall: left out; 3\.1 km away, it is hidden by the ground at 1\.0 km\.$/m);
	await is();
});

test("lone-arch: the cliff from a survey by compass, the arch and the ground under it from a photo", async () => {
	const { folder, run, is } = before("lone-arch", "walls.csv");
	/** As `lodebook locate` has it when the photo was taken. */
	const { azimuth, altitude } = JSON.parse(
		lodebook(
			...["locate", "Antares", "--latitude", "33.1 N", "--longitude", "1.4 E", "--elevation", "640"],
			...["--at", "2027-07-10T23:40:00+01:00", "--json"],
		).stdout,
	) as { azimuth: number; altitude: number };
	const star = [azimuth, altitude] as const;
	const photo = archPhoto([star]);
	const mark = (name: string, [bearing, above]: readonly [number, number]): string =>
		[
			...placeOf([bearing, above]).map((one) => one.toFixed(1)),
			"mark",
			name,
			bearing.toFixed(2),
			above.toFixed(2),
		].join(", ");
	/** What a hand clicks of an edge. */
	const clicked = (what: string, name: string, edge: readonly (readonly [number, number])[]): readonly string[] =>
		fewerPoints(edge, 1.5).map(([x, y]) => [x, y, what, name].join(", "));
	const points = [
		"x, y, what, name, bearing, altitude",
		mark("cairn", CAIRN),
		mark("far tower", TOWER),
		mark("Antares", star),
		...clicked("obstruction", "arch", rockEdge(photo)),
		...clicked("window", "arch", windowEdge(photo)),
		...clicked("skyline", "ground", groundEdge(photo, 0, PHOTO.width)),
	];
	await expect(`${points.join("\n")}\n`).toMatchFileSnapshot(join(inputs, "arch.csv"));
	writeFileSync(join(folder, "arch.csv"), `${points.join("\n")}\n`);
	run("skyline", "walls.csv", "--magnetic", "lone-arch.lode.yaml");
	run("skyline", "--photo", "arch.csv", "--size", `${PHOTO.width}x${PHOTO.height}`);
	await is();
});
