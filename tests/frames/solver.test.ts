/**
 * The same thirty frames measured by us and by astrometry.net (solver-cases.json, made by make-solver-cases.py): another
 * detection of stars, another catalogue (Tycho-2), another matching, another fit. LODEBOOK_FRAMES=30 measures all.
 */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { plainMap } from "../../shared/frames/lens-map.ts";
import { readFrame, solveFrames } from "../../shared/frames/solve.ts";
import { solvedPlace } from "../../shared/frames/where.ts";
import { render, truth } from "./camera.ts";
import { AIRLESS, SOLVER_SCENES } from "./solver-scenes.ts";
import { angle, dir, R } from "./vectors.ts";

interface Place {
	readonly rightAscension: number;
	readonly declination: number;
	readonly positionAngle: number;
}

const cases: readonly { readonly name: string; readonly found: Place | null }[] = JSON.parse(
	readFileSync(new URL("solver-cases.json", import.meta.url), "utf8"),
);
const MEASURED = Number(process.env.LODEBOOK_FRAMES ?? 10);
const chosen = SOLVER_SCENES.map((one, i) => ({ ...one, found: cases[i]?.found })).filter(
	(_, i) => i % Math.ceil(SOLVER_SCENES.length / MEASURED) === 0,
);

test("the fixture is of these frames, and all of them were solved", () => {
	expect(cases.map(({ name }) => name)).toEqual(SOLVER_SCENES.map(({ name }) => name));
	expect(cases.filter(({ found }) => !found)).toEqual([]);
});

test.each(chosen)("$name: the same middle, the same way up", ({ name, focal, scene, found }) => {
	if (!found) throw new Error("not solved");
	const { width, height, sensorWidth, latitude, longitude, at } = scene;
	const site = { latitude, longitude, elevation: 0, air: AIRLESS };
	const lens = plainMap("rectilinear", width, height, (focal * width) / sensorWidth);
	const solved = solveFrames([readFrame({ width, height, light: render(scene), step: 1 }, at, site, lens, {})], lens);
	const [frame] = solved?.frames ?? [];
	if (!solved || !frame) throw new Error("not identified");
	const ours = solvedPlace(site, at, frame.attitude, solved.map);
	const perPixel = Math.atan(sensorWidth / width / scene.focal) / R;
	const away = (a: Place, b: Place): number =>
		angle(dir(90 - a.rightAscension, a.declination), dir(90 - b.rightAscension, b.declination)) / perPixel;
	const turned = (a: Place, b: Place): number => Math.abs(((a.positionAngle - b.positionAngle + 540) % 360) - 180);
	const made = truth(scene);
	process.stdout.write(
		`${name}: ${away(ours, found).toFixed(2)} px and ${turned(ours, found).toFixed(3)}° from the other; ours ${away(ours, made).toFixed(2)} px, the other ${away(found, made).toFixed(2)} px from how it was made\n`,
	);
	expect(away(ours, found)).toBeLessThan(0.25);
	expect(turned(ours, found)).toBeLessThan(0.05);
});
