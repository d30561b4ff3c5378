/**
 * Frames of our own camera, flipped, or cut anywhere out of a whole one: told as that, with the part that is left, and the
 * place of the axis only where the stars show it. LODEBOOK_RENDERED=6 renders as many of each lens; LODEBOOK_SEED=n.
 */
import { expect, test } from "vitest";
import { findSpots } from "../../shared/frames/find-stars.ts";
import { type Misfit, misfitOf } from "../../shared/frames/misfit.ts";
import { skyOver } from "../../shared/frames/star-sky.ts";
import { guessesFor, shownOf } from "../../shared/measure/guesses.ts";
import { toVector } from "../../shared/sky/horizontal.ts";
import { chance, render, type Scene } from "./camera.ts";

const RENDERED = Number(process.env.LODEBOOK_RENDERED ?? 1);
const SEED = Number(process.env.LODEBOOK_SEED ?? 1);
const AIR = { pressure: 1000, temperature: 10 };
const [WIDTH, HEIGHT] = [3000, 2000];

test.each([14, 24, 35, 50, 85, 135] as const)("%d mm", { timeout: 600_000 }, (focal) => {
	const random = chance(SEED + 1000 * focal);
	let unknown = 0;
	for (let i = 0; i < RENDERED; i++) {
		const latitude = i % 2 ? 46 : -32.4;
		const scene: Scene = {
			latitude,
			longitude: 10,
			...AIR,
			at: Date.UTC(2027, 0, 1) + Math.floor(365 * 86_400_000 * random()),
			exposure: 0,
			azimuth: 360 * random(),
			altitude: 35 + 25 * random(),
			roll: 360 * random(),
			focal: focal * (0.98 + 0.04 * random()),
			sensorWidth: 36,
			width: WIDTH,
			height: HEIGHT,
			k1: -0.02,
			k2: 0.004,
			light: (60_000 * focal) / 24,
			seed: i,
		};
		const light = render(scene);
		const sky = skyOver({ latitude, longitude: 10, elevation: 0, air: AIR }, scene.at);
		const direction = toVector({ azimuth: scene.azimuth + 8, altitude: scene.altitude - 6 });
		const camera = {
			focalLength: focal,
			fNumber: 2,
			sensor: [36, 24] as const,
			pixelPitch: 12,
			projection: "rectilinear" as const,
		};
		const told = (picture: Uint16Array, width: number, height: number): Misfit | undefined =>
			misfitOf(
				{ found: findSpots({ width, height, light: picture, step: 1 }), sky },
				guessesFor(camera, width, height),
				{
					near: { direction, within: 30 },
				},
			);

		const flipped = told(
			light.map((_, k) => light[k - 2 * (k % WIDTH) + WIDTH - 1] as number),
			WIDTH,
			HEIGHT,
		);
		if (flipped) {
			expect(flipped.mirrored).toBe(true);
			expect(Math.abs(shownOf(camera, flipped.map).long - 1)).toBeLessThan(0.04);
		} else unknown++;

		const part = 0.5 + 0.3 * random();
		const [width, height] = [Math.round(WIDTH * part), Math.round(HEIGHT * part)];
		const [left, top] = [Math.floor((WIDTH - width) * random()), Math.floor((HEIGHT - height) * random())];
		const cut = new Uint16Array(width * height);
		for (let row = 0; row < height; row++)
			cut.set(light.subarray((top + row) * WIDTH + left, (top + row) * WIDTH + left + width), row * width);
		const cropped = told(cut, width, height);
		if (!cropped) {
			unknown++;
			continue;
		}
		expect(cropped.mirrored).toBe(false);
		expect(Math.abs(shownOf(camera, cropped.map).long / part - 1)).toBeLessThan(0.05);
		const right = WIDTH / 2 - left - width / 2;
		const up = top + height / 2 - HEIGHT / 2;
		const off = Math.hypot(cropped.map.axisRight - right, cropped.map.axisUp - up);
		process.stdout.write(
			`${focal} mm, ${Math.round(100 * part)} % of it: ${cropped.stars} stars, axis ${Math.round(Math.hypot(right, up))} px away, ${cropped.axisKnown ? "" : "not "}known, to ${off.toFixed(1)} px\n`,
		);
		if (cropped.axisKnown) expect(off).toBeLessThan(40);
		// A wide lens shows it by its many stars.
		if (focal < 30 && cropped.stars > 70) expect(cropped.axisKnown).toBe(true);
	}
	// A long lens may show too few stars to magnitude 6.
	if (focal < 100) expect(unknown).toBe(0);
});
