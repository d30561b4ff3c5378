/**
 * Trails against a camera that is carried out: a dense grid of stars of the frame, each taken to its true place by a
 * fixed point of the refraction formula, turned with the sky and back with the tracker by rotation matrices, refracted
 * again, and projected by its own formulas. It shares no code with `shared/`.
 */
import { describe, expect, test } from "vitest";
import { carried, heldLevel } from "../../shared/alignment/attitude.ts";
import { frameOf } from "../../shared/alignment/frame-stars.ts";
import { trailFor, trailsOf } from "../../shared/alignment/trail.ts";
import { axisErrorAllowed, chanceWithin, trailQuantile } from "../../shared/alignment/trail-chance.ts";
import { bendsOf, coverOf, hiddenBy } from "../../shared/sky/cover.ts";
import { outlineOf } from "../../shared/sky/outline.ts";
import { type Held, held } from "./held.ts";
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
	// Each step is nearer by a factor of ten at least, from 3° up.
	let h = seen;
	for (let i = 0; i < 16; i++) h = seen - (lifted(h, air) - h);
	return h;
}

const height = (v: V) => Math.atan2(v[2], Math.hypot(v[0], v[1])) / R;
const azimuth = (v: V) => Math.atan2(v[0], v[1]) / R;

/** A star of the dense grid: its place on the sensor, in the sky without air, and how much it counts. */
interface Dense {
	x: number;
	y: number;
	place: V;
	weight: number;
}
interface Camera {
	right: V;
	up: V;
	forward: V;
}

const level = ({ azimuth, altitude }: { azimuth: number; altitude: number }): Camera => {
	const forward = dir(azimuth, altitude);
	const up = dir(azimuth, altitude + 90);
	return { right: cross(forward, up), up, forward };
};

/** Whole from 5° on, nothing at 3° and below. */
const counts = (altitude: number) => Math.min(1, Math.max(0, (altitude - 3) / 2));

/** Stars every 1/`grid` of the frame, and finely just above places that count less than those above them. */
function dense(shot: Held, { right, up, forward }: Camera, grid: number): Dense[] {
	const { camera, spot, vertical, isSky = () => true } = shot;
	const [width, tall] = vertical ? [camera.sensor[1], camera.sensor[0]] : camera.sensor;
	const stars: Dense[] = [];
	for (let i = 0; i <= grid; i++) {
		const x = (i / grid - 0.5) * width;
		const at = (j: number) => plus(scaled(forward, camera.focalLength), scaled(right, x), scaled(up, (j - 0.5) * tall));
		const look = (j: number) => {
			const v = at(j);
			const seen = height(v);
			const shows = isSky({ azimuth: azimuth(v), altitude: seen });
			return { j, seen, v, weight: shows ? counts(seen) : 0 };
		};
		const steps = Array.from({ length: grid + 1 }, (_, j) => look(j / grid));
		const all = [...steps];
		for (const [j, one] of steps.entries()) {
			const next = steps[j + 1];
			if (next && next.weight !== one.weight) for (let k = 1; k < 60; k++) all.push(look((j + k / 60) / grid));
		}
		for (const { j, seen, v, weight } of all)
			if (weight > 0) stars.push({ x, y: (j - 0.5) * tall, place: dir(azimuth(v), lowered(seen, spot.air)), weight });
	}
	return stars;
}

/** A star of the grid as it is seen some time later: what an axis error does to it comes after. */
interface Later extends Dense {
	now: V;
}

const afterSome = ({ spot }: Held, stars: readonly Dense[], seconds: number): Later[] => {
	const pole = dir(0, spot.latitude);
	const turned = -(15.041067 / 3600) * seconds;
	const [x, y, z] = [spin(pole, turned, [1, 0, 0]), spin(pole, turned, [0, 1, 0]), spin(pole, turned, [0, 0, 1])];
	return stars.map((star) => {
		const later = plus(scaled(x, star.place[0]), scaled(y, star.place[1]), scaled(z, star.place[2]));
		return { ...star, now: dir(azimuth(later), lifted(height(later), spot.air)) };
	});
};

/** Displacement of each star, pixels as it counts, with an axis error and the drive off by some degrees. */
function moved(
	{ camera, spot, rate }: Held,
	{ right, up, forward }: Camera,
	stars: readonly Later[],
	seconds: number,
	error: { along: number; across: number },
	drive = 0,
): [number, number][] {
	const f = camera.focalLength;
	// The elevated end of the axis: higher by `along`, clockwise on the sphere by `across`.
	const facing = poleAzimuth(spot.latitude);
	const size = Math.hypot(error.along, error.across);
	const ahead = dir(facing, Math.abs(spot.latitude));
	const above = dir(facing, Math.abs(spot.latitude) + 90);
	const aside = dir(facing + 90, 0);
	const k = size === 0 ? 0 : Math.sin(size * R) / size;
	const axis = plus(scaled(ahead, Math.cos(size * R)), scaled(above, error.along * k), scaled(aside, error.across * k));
	const north: V = spot.latitude >= 0 ? axis : [-axis[0], -axis[1], -axis[2]];
	const turned = (15.041067 / 3600) * seconds * rate + drive;
	// A rotation is known by what it does to the three axes.
	const columns = [
		spin(north, turned, [1, 0, 0]),
		spin(north, turned, [0, 1, 0]),
		spin(north, turned, [0, 0, 1]),
	] as const;
	return stars.map(({ x, y, now, weight }) => {
		const inCamera = plus(scaled(columns[0], now[0]), scaled(columns[1], now[1]), scaled(columns[2], now[2]));
		const depth = dot(forward, inCamera);
		const px = (weight * 1000) / camera.pixelPitch;
		return [((f * dot(right, inCamera)) / depth - x) * px, ((f * dot(up, inCamera)) / depth - y) * px];
	});
}

const worstOf = (all: readonly [number, number][]) => Math.max(...all.map(([x, y]) => Math.hypot(x, y)));

const shotOf = (focalLength: number, latitude: number, azimuth: number, altitude: number): Held => ({
	camera: { focalLength, fNumber: 2.8, sensor: [36, 24], pixelPitch: 4.35, projection: "rectilinear" },
	vertical: false,
	aim: { azimuth, altitude },
	spot: { latitude, longitude: 0, elevation: 0, air: { pressure: 930, temperature: 5 } },
	rate: 1,
});

test("a frame of no length has no trails, whatever the lens and the altitude", () => {
	let worst = 0;
	for (const focalLength of [14, 135, 400, 600])
		for (const altitude of [5, 10, 20, 40, 60, 85])
			worst = Math.max(
				worst,
				trailFor(trailsOf(held(shotOf(focalLength, 37, 150, altitude)), 0.01), { along: 0, across: 0 }),
			);
	// Differential refraction in 0.15″ of turn at 600 mm and 5°: a thousandth of a pixel.
	expect(worst).toBeLessThan(0.002);
});

test("the longest trail is that of a camera carried out, to 1 %: 14 to 600 mm, 5° to 85°, north and south", () => {
	let [worst, compared] = [0, 0];
	let at = "";
	for (const latitude of [-61, -33, -8, 12, 37, 58])
		for (const focalLength of [14, 24, 50, 135, 400, 600])
			for (const altitude of [5, 12, 30, 55, 85])
				for (const azimuth of [95, 170, 230, 355]) {
					const shot = shotOf(focalLength, latitude, azimuth, altitude);
					const frame = held(shot);
					const camera = level(shot.aim);
					const stars = dense(shot, camera, 12);
					for (const seconds of [30, 180]) {
						const trails = trailsOf(frame, seconds);
						const later = afterSome(shot, stars, seconds);
						for (const error of [
							{ along: 0, across: 0 },
							{ along: 0.4, across: -0.3 },
							{ along: -1.5, across: 2.5 },
						]) {
							const ours = trailFor(trails, error);
							const real = worstOf(moved(shot, camera, later, seconds, error));
							const off = Math.max(0, Math.abs(ours - real) - 0.005) / real;
							compared++;
							if (off <= worst) continue;
							worst = off;
							at = `${latitude}° ${focalLength} mm ${azimuth}/${altitude}° ${seconds} s ${JSON.stringify(error)}: ${ours} for ${real}`;
						}
					}
				}
	expect(compared).toBe(4320);
	console.log(`trails: worst ${(100 * worst).toFixed(2)} % (${at})`);
	expect(worst, at).toBeLessThan(0.01);
});

describe("only stars that are seen count", () => {
	const arch = {
		name: "arch",
		outline: outlineOf([
			[150, 0],
			[150, 50],
			[180, 70],
			[210, 50],
			[210, 0],
		]),
		window: outlineOf([
			[165, 0],
			[170, 25],
			[190, 25],
			[195, 0],
		]),
	};
	const mouth = {
		name: "mouth",
		outline: outlineOf([
			[165, 8],
			[200, 8],
			[205, 32],
			[160, 36],
		]),
	};
	const covers = {
		"a cave's mouth": coverOf([[0, 4]], [mouth]),
		"a free-standing arch": coverOf([[0, 4]], undefined, [arch]),
		"a skyline with a notch": coverOf(
			[
				[0, 20],
				[160, 25],
				[172, 9],
				[180, 24],
				[250, 18],
				[300, 12],
			],
			undefined,
		),
	};
	test.each(Object.entries(covers))("%s: the trail of the worst star of a dense grid, to 1 %", (_, cover) => {
		for (const focalLength of [14, 24, 50])
			for (const altitude of [12, 20, 40]) {
				const shotAt = (latitude: number): Held => ({
					...shotOf(focalLength, latitude, 178, altitude),
					isSky: (direction) => hiddenBy(cover, direction) === undefined,
					bends: bendsOf(cover, undefined, 5),
				});
				const camera = level({ azimuth: 178, altitude });
				const stars = dense(shotAt(0), camera, 160);
				for (const latitude of [-33, 37]) {
					const shot = shotAt(latitude);
					const error = { along: 0.5, across: 0.8 };
					const ours = trailFor(trailsOf(held(shot), 120), error);
					const real = worstOf(moved(shot, camera, afterSome(shot, stars, 120), 120, error));
					expect(
						Math.abs(ours / real - 1),
						`${latitude}° ${focalLength} mm ${altitude}°: ${ours} for ${real}`,
					).toBeLessThan(0.01);
				}
			}
	});

	test("a 14 mm frame in a cave's mouth may be exposed twice as long as one under an open sky", () => {
		const open = held(shotOf(14, 37, 180, 25));
		const inCave = held({
			...shotOf(14, 37, 180, 25),
			isSky: (direction) => hiddenBy(covers["a cave's mouth"], direction) === undefined,
			bends: bendsOf(covers["a cave's mouth"], undefined, 5),
		});
		const allowed = (frame: typeof open) => axisErrorAllowed(trailsOf(frame, 120), 2);
		expect(allowed(inCave) / allowed(open)).toBeGreaterThan(1.7);
	});

	test("what is allowed changes little when the aim moves a little, low over the horizon", () => {
		let steepest = 0;
		let where = "";
		for (const focalLength of [24, 50, 135, 400])
			for (let altitude = 1; altitude < 30; altitude += 0.1) {
				const frame = held(shotOf(focalLength, 37, 200, altitude));
				// Some star of it is to be sharp.
				if (!frame.showsSky || !frame.stars.some(({ weight }) => weight === 1)) continue;
				const at = (one: number) =>
					trailFor(trailsOf(held(shotOf(focalLength, 37, 200, one)), 60), { along: 0.2, across: 0.1 });
				const step = Math.abs(Math.log(at(altitude + 0.1) / at(altitude)));
				if (step > steepest) [steepest, where] = [step, `${focalLength} mm at ${altitude}°`];
			}
		console.log(`aim moved by 0.1°: trails change by ${(100 * steepest).toFixed(1)} % at most (${where})`);
		expect(steepest, where).toBeLessThan(0.07);
	});
});

test("a tracker carries the frame: 24 mm at 37.5° N on the galactic centre rolls by 17.5° in 92 minutes", () => {
	// A camera that sees the centre in the south at 22:30 and is carried on to 00:02: REFERENCES, recomputed.
	const start = level({ azimuth: 180 - 14, altitude: 22 });
	const turned = (15.041067 / 3600) * 92 * 60;
	const pole = dir(0, 37.5);
	const expected = {
		right: spin(pole, -turned, start.right),
		up: spin(pole, -turned, start.up),
		forward: spin(pole, -turned, start.forward),
	};
	const ours = carried(heldLevel({ azimuth: 166, altitude: 22 }), 37.5, 92 * 60, 1);
	for (const part of ["right", "up", "forward"] as const)
		for (const k of [0, 1, 2] as const) expect(ours[part][k]).toBeCloseTo(expected[part][k], 6);
	const lowest = (camera: Camera) =>
		Math.min(
			...[-18, 18].map((x) =>
				height(plus(scaled(camera.forward, 24), scaled(camera.right, x), scaled(camera.up, -12))),
			),
		);
	const corners = frameOf({
		...shotOf(24, 37.5, 0, 0),
		attitude: ours,
		sky: { isSky: () => true, bends: [] },
		sharpAbove: 0,
		vertical: false,
		rate: 1,
	}).stars.map(({ seen }) => seen.altitude);
	expect(Math.min(...corners.filter((altitude) => altitude > -2))).toBeGreaterThan(-2);
	// Turned by 17° to 18°, its lower corner sinks by more than 8°.
	expect(lowest(start) - lowest(expected)).toBeGreaterThan(7);
});

/** The greatest distance between two points of a path. */
function farthestApart(x: Float64Array, y: Float64Array): number {
	let most = 0;
	for (let m = 0; m < x.length; m++) {
		const fromX = x[m] as number;
		const fromY = y[m] as number;
		for (let q = m + 1; q < x.length; q++) {
			const dx = (x[q] as number) - fromX;
			const dy = (y[q] as number) - fromY;
			most = Math.max(most, dx * dx + dy * dy);
		}
	}
	return Math.sqrt(most);
}

/** A repeatable uniform number, 0 … 1 (mulberry32). */
function uniform(seed: number): () => number {
	let state = seed;
	return () => {
		state = (state + 0x6d2b79f5) | 0;
		let t = Math.imul(state ^ (state >>> 15), 1 | state);
		t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
		return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
	};
}

test("chances and percentiles with a drive of random phase and an axis off by chance: a path followed star by star, to 2 points", () => {
	let worst = 0;
	let at = "";
	const next = uniform(20270605);
	const normal = () => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
	for (const [focalLength, latitude, altitude, seconds, amplitude, period, bias] of [
		[24, 37, 30, 180, 20, 480, 0],
		[50, -33, 45, 120, 25, 600, 0.4],
		[135, 52, 60, 60, 15, 240, 0],
		[135, -20, 20, 200, 15, 240, 0.2],
		[400, 37, 50, 30, 10, 480, 0.1],
		[50, 12, 40, 600, 20, 480, 0],
	] as const) {
		const shot: Held = {
			...shotOf(focalLength, latitude, 150, altitude),
			periodicError: { amplitude: amplitude / 3600, period },
		};
		const spread = {
			bias: { along: bias, across: -bias / 2 },
			covariance: { alongAlong: 0.09, alongAcross: 0.02, acrossAcross: 0.2 },
		};
		const camera = level(shot.aim);
		const stars = afterSome(shot, dense(shot, camera, 3), seconds);
		const at0 = moved(shot, camera, stars, seconds, { along: 0, across: 0 });
		const slopes = (moves: [number, number][], by: number) =>
			moves.map(([x, y], i): [number, number] => [(x - (at0[i]?.[0] ?? 0)) / by, (y - (at0[i]?.[1] ?? 0)) / by]);
		const perAlong = slopes(moved(shot, camera, stars, seconds, { along: 0.01, across: 0 }), 0.01);
		const perAcross = slopes(moved(shot, camera, stars, seconds, { along: 0, across: 0.01 }), 0.01);
		const perDrive = slopes(moved(shot, camera, stars, seconds, { along: 0, across: 0 }, 0.01), 0.01);
		const none = [0, 0] as const;
		const trails: number[] = [];
		const moments = Array.from({ length: 25 }, (_, i) => i / 24);
		const [pathX, pathY] = [new Float64Array(moments.length), new Float64Array(moments.length)];
		const a = Math.sqrt(spread.covariance.alongAlong);
		const b = spread.covariance.alongAcross / a;
		const c = Math.sqrt(spread.covariance.acrossAcross - b * b);
		for (let n = 0; n < 3000; n++) {
			const [u, v] = [normal(), normal()];
			const [along, across] = [spread.bias.along + a * u, spread.bias.across + b * u + c * v];
			const phase = 2 * Math.PI * next();
			const drive = moments.map(
				(t) => (amplitude / 3600) * (Math.sin((2 * Math.PI * t * seconds) / period + phase) - Math.sin(phase)),
			);
			let longest = 0;
			for (const [i, [x0, y0]] of at0.entries()) {
				const [alongs, acrosses, drives] = [perAlong[i] ?? none, perAcross[i] ?? none, perDrive[i] ?? none];
				const driftX = x0 + along * alongs[0] + across * acrosses[0];
				const driftY = y0 + along * alongs[1] + across * acrosses[1];
				for (let m = 0; m < moments.length; m++) {
					const t = moments[m] as number;
					const driven = drive[m] as number;
					pathX[m] = t * driftX + driven * drives[0];
					pathY[m] = t * driftY + driven * drives[1];
				}
				longest = Math.max(longest, farthestApart(pathX, pathY));
			}
			trails.push(longest);
		}
		trails.sort((x, y) => x - y);
		const ours = trailsOf(held(shot), seconds);
		for (const share of [0.1, 0.3, 0.5, 0.7, 0.9, 0.95]) {
			const limit = trails[Math.floor(share * trails.length)] ?? 0;
			const off = Math.abs(chanceWithin(ours, spread, limit) - share);
			expect(chanceWithin(ours, spread, trailQuantile(ours, spread, share))).toBeCloseTo(share, 2);
			if (off <= worst) continue;
			worst = off;
			at = `${focalLength} mm ${latitude}° ${seconds} s: ${chanceWithin(ours, spread, limit)} for ${share}`;
		}
	}
	console.log(`chances: worst ${(100 * worst).toFixed(1)} points (${at})`);
	// 3,000 draws are good to 0.9 of a point, one standard deviation.
	expect(worst, at).toBeLessThan(0.025);
});
