/** Two frames of one run on the roofless chapel's evening, as the tests' own camera takes them. */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { render, type Scene } from "./camera.ts";
import { exifClock, exifOf, jpegOf } from "./files.ts";

const at = Date.UTC(2027, 5, 6, 0, 0, 0);

/** The axis 0.40° too low and 0.76° to the right, facing the pole; a drive without error, the sky down to the horizon. */
export const calmScene: Scene = {
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
	tracker: { along: -0.4, across: 0.76 },
	seed: 3,
};

/** The same with a drive that swings, ground, hot pixels and a satellite. */
export const scene: Scene = {
	...calmScene,
	tracker: { along: -0.4, across: 0.76, periodic: { amplitude: 40 / 3600, period: 600, phase: 40 } },
	ground: (bearing) => 20 + 8 * Math.sin(bearing / 12),
	hotPixels: 60,
	satellites: 1,
};

/** Writes `first.jpg` and, a quarter of an hour later, `second.jpg`; their paths. */
export function writeRun(folder: string): readonly [string, string] {
	const [first, second] = ["first.jpg", "second.jpg"].map((name, i) => {
		const one = { ...scene, at: at + i * 900_000, seed: 3 + i };
		const path = join(folder, name);
		writeFileSync(path, jpegOf(one, render(one), 88, exifOf(exifClock(one.at - 30_000, -3), 60, 24)));
		return path;
	}) as [string, string];
	return [first, second];
}
