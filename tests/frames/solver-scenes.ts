/**
 * Thirty frames that an independent solver has been given (make-solver-cases.py): no air, since it knows of none; neither
 * ground nor tracks. As a program it writes them into a folder, sixteen bits a pixel, with what is needed to solve them.
 */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { chance, render, type Scene } from "./camera.ts";

export const AIRLESS = { pressure: 0, temperature: 10 };

const FOCAL_LENGTHS = [24, 35, 50, 85, 135];
const LATITUDES = [46, -32.4];
const random = chance(20_27);

export interface SolverScene {
	readonly name: string;
	/** As a plan would have it, millimetres; the scene's own is a little off. */
	readonly focal: number;
	readonly scene: Scene;
}

export const SOLVER_SCENES: readonly SolverScene[] = FOCAL_LENGTHS.flatMap((focal) =>
	LATITUDES.flatMap((latitude) =>
		[1, 2, 3].map(
			(which): SolverScene => ({
				name: `${focal} mm, ${latitude}°, ${which}`,
				focal,
				scene: {
					latitude,
					longitude: 10,
					...AIRLESS,
					at: Date.UTC(2027, 0, 1) + Math.floor(365 * 86_400_000 * random()),
					exposure: 4,
					azimuth: 360 * random(),
					altitude: 40 + 30 * random(),
					roll: 360 * random() - 180,
					focal: focal * (0.985 + 0.03 * random()),
					sensorWidth: 36,
					width: 1500,
					height: 1000,
					k1: -0.01 + 0.02 * random(),
					light: (60_000 * focal) / 24,
					seed: Math.floor(1e6 * random()),
					hotPixels: 20,
				},
			}),
		),
	),
);

const [, , folder] = process.argv;
if (process.env.LODEBOOK_WRITE_FRAMES && folder !== undefined) {
	mkdirSync(folder, { recursive: true });
	for (const [i, { scene }] of SOLVER_SCENES.entries())
		writeFileSync(join(folder, `${i}.u16`), Buffer.from(render(scene).buffer));
	const told = SOLVER_SCENES.map(({ name, focal, scene: { at, width, height, sensorWidth } }) => ({
		name,
		focal,
		at: new Date(at).toISOString(),
		width,
		height,
		sensorWidth,
	}));
	writeFileSync(join(folder, "frames.json"), JSON.stringify(told));
}
