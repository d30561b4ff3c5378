/**
 * Trails against a camera that is carried out: a dense grid of stars of the frame, each taken to its true place by a
 * bisection of the refraction formula, turned with the sky and back with the tracker by rotation matrices, refracted
 * again, and projected by its own formulas. It shares no code with `shared/`.
 */
import { expect, test } from "vitest";
import { type Shot, trailFor, trailsOf } from "../../shared/alignment/trail.ts";
import { dir, poleAzimuth, spin, type V } from "./simulation.ts";

const R = Math.PI / 180;
const dot = (a: V, b: V) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: V, b: V): V => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];

const scaled = ([x, y, z]: V, k: number): V => [x * k, y * k, z * k];
const plus = (a: V, b: V, c: V): V => [a[0] + b[0] + c[0], a[1] + b[1] + c[1], a[2] + b[2] + c[2]];

/** Sæmundsson, Sky & Telescope 72 (1986) 70, for 1010 hPa and 10 °C, scaled; degrees. */
const lifted = (h: number, { pressure, temperature }: Air) =>
	h + (((1.02 / Math.tan((h + 10.3 / (h + 5.11)) * R) / 60) * pressure) / 1010) * (283 / (273 + temperature));
interface Air {
	pressure: number;
	temperature: number;
}

function lowered(seen: number, air: Air): number {
	let [low, high] = [seen - 1.5, seen + 0.1];
	for (let i = 0; i < 60; i++) {
		const middle = (low + high) / 2;
		if (lifted(middle, air) < seen) low = middle;
		else high = middle;
	}
	return (low + high) / 2;
}

const height = (v: V) => Math.atan2(v[2], Math.hypot(v[0], v[1])) / R;
const azimuth = (v: V) => Math.atan2(v[0], v[1]) / R;

/** Longest trail of a frame: stars every 1/`grid` of it, and on its edge to the sky, that stand at least 3° high. */
function simulated(shot: Shot, seconds: number, error: { along: number; across: number }, grid: number): number {
	const { camera, aim, spot, vertical } = shot;
	const [width, tall] = vertical ? [camera.sensor[1], camera.sensor[0]] : camera.sensor;
	const forward = dir(aim.azimuth, aim.altitude);
	const up = dir(aim.azimuth, aim.altitude + 90);
	const right = cross(forward, up);
	const f = camera.focalLength;
	const pole = dir(0, spot.latitude);
	// The elevated end of the axis: higher by `along`, clockwise on the sphere by `across`.
	const facing = poleAzimuth(spot.latitude);
	let axis = dir(facing, Math.abs(spot.latitude) + error.along);
	axis = spin(dir(facing, Math.abs(spot.latitude) + 90 + error.along), -error.across, axis);
	const north: V = spot.latitude >= 0 ? axis : [-axis[0], -axis[1], -axis[2]];
	const turned = (15.041067 / 3600) * seconds;
	const rows = Array.from({ length: grid + 1 }, (_, j) => j / grid);
	let worst = 0;
	for (let i = 0; i <= grid; i++)
		for (const across of rows) {
			const x = (i / grid - 0.5) * width;
			const at = (j: number) => plus(scaled(forward, f), scaled(right, x), scaled(up, (j - 0.5) * tall));
			let j = across;
			// The row below hides: up to the first star that shows.
			while (j < 1 && j < across + 1 / grid && height(at(j)) < 3) j += 1 / grid / 400;
			const y = (j - 0.5) * tall;
			const v = at(j);
			const seen = height(v);
			if (seen < 3) continue;
			const place = spin(pole, -turned, dir(azimuth(v), lowered(seen, spot.air)));
			const now = dir(azimuth(place), lifted(height(place), spot.air));
			const inCamera = spin(north, turned * shot.rate, now);
			const depth = dot(forward, inCamera);
			const moved = Math.hypot((f * dot(right, inCamera)) / depth - x, (f * dot(up, inCamera)) / depth - y);
			worst = Math.max(worst, (moved * 1000) / camera.pixelPitch);
		}
	return worst;
}

const shotOf = (focalLength: number, latitude: number, azimuth: number, altitude: number): Shot => ({
	camera: { focalLength, fNumber: 2.8, sensor: [36, 24], pixelPitch: 4.35, projection: "rectilinear" },
	vertical: false,
	aim: { azimuth, altitude },
	spot: { latitude, longitude: 0, elevation: 0, air: { pressure: 930, temperature: 5 } },
	skylineAt: () => -90,
	rate: 1,
});

test("a frame of no length has no trails, whatever the lens and the altitude", () => {
	let worst = 0;
	for (const focalLength of [14, 135, 400, 600])
		for (const altitude of [5, 10, 20, 40, 60, 85])
			worst = Math.max(
				worst,
				trailFor(trailsOf(shotOf(focalLength, 37, 150, altitude), 0.01), { along: 0, across: 0 }),
			);
	// Differential refraction in 0.15″ of turn at 600 mm and 5°: a thousandth of a pixel.
	expect(worst).toBeLessThan(0.002);
});

test("the longest trail is that of a camera carried out, to 1 %: 14 to 600 mm, 5° to 85°, north and south", () => {
	let worst = 0;
	let at = "";
	for (const latitude of [-61, -33, -8, 12, 37, 58])
		for (const focalLength of [14, 24, 50, 135, 400, 600])
			for (const altitude of [5, 12, 30, 55, 85])
				for (const azimuth of [95, 170, 230, 355])
					for (const seconds of [30, 180])
						for (const error of [
							{ along: 0, across: 0 },
							{ along: 0.4, across: -0.3 },
						]) {
							const shot = shotOf(focalLength, latitude, azimuth, altitude);
							const ours = trailFor(trailsOf(shot, seconds), error);
							const real = simulated(shot, seconds, error, 12);
							// Left out: half the square of the axis error, of the sky's turn. It shows beside the residual axis only.
							const square = ((error.along ** 2 + error.across ** 2) * R * R) / 2;
							const left = (square * 15.041067 * seconds * focalLength) / (206.265 * 4.35) + 0.005;
							const off = Math.max(0, Math.abs(ours - real) - left) / real;
							if (off <= worst) continue;
							worst = off;
							at = `${latitude}° ${focalLength} mm ${azimuth}/${altitude}° ${seconds} s ${JSON.stringify(error)}: ${ours} for ${real}`;
						}
	expect(worst, at).toBeLessThan(0.01);
});
