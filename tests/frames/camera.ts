/**
 * A camera and a sky of our own for the frames that tests measure: places of stars by formulas of their own, a lens, a
 * tracker with an axis and a drive that are off, and a picture with point spread, glow, ground and noise. It shares no
 * code with `shared/`; of its data it has the catalogue that the star table is made from too, and the proper motions.
 *
 * Precession by the angles of IAU 1976, nutation by its four largest terms, aberration of a circular orbit, sidereal time,
 * refraction after Sæmundsson: J. Meeus, Astronomical Algorithms, ch. 12, 16, 21 to 23 [from memory].
 */
import { readFileSync } from "node:fs";
import { add, angle, cross, dir, dot, norm, pole, R, scale, spin, type V } from "./vectors.ts";

interface CatalogueStar {
	readonly hip: number;
	readonly magnitude: number;
	readonly rightAscension: number;
	readonly declination: number;
}

const read = (path: string): string => readFileSync(new URL(path, import.meta.url), "utf8");

let stars: readonly CatalogueStar[] | undefined;

/** Stars to magnitude 8 with their places of 2000 moved to 2027. */
export function catalogue(): readonly CatalogueStar[] {
	if (stars) return stars;
	const motions = new Map(
		read("../../shared/sky/catalogue/proper-motions.csv")
			.split("\n")
			.filter((line) => /^\d/.test(line))
			.map((line) => {
				const [hip, east, north] = line.split(",").map(Number) as [number, number, number];
				return [hip, [1000 * east, 1000 * north] as const] as const;
			}),
	);
	const more = new Map(
		read("../../shared/sky/catalogue/astrometry.csv")
			.split("\n")
			.filter((line) => /^\d/.test(line))
			.map((line) => {
				const [hip, ra, dec, east, north] = line.split(",").map(Number) as [number, number, number, number, number];
				return [hip, [ra, dec, east, north] as const] as const;
			}),
	);
	const { features } = JSON.parse(read("../../node_modules/d3-celestial/data/stars.8.json"));
	stars = features.map(
		({
			id,
			properties,
			geometry,
		}: {
			id: number;
			properties: { mag: number };
			geometry: { coordinates: number[] };
		}) => {
			let [rightAscension = 0, declination = 0] = geometry.coordinates;
			let [east, north] = motions.get(id) ?? [0, 0];
			const better = more.get(id);
			if (better) [rightAscension, declination, east, north] = better;
			const years = 27;
			return {
				hip: id,
				magnitude: properties.mag,
				rightAscension: rightAscension + (east * years) / 3_600_000 / Math.cos(declination * R),
				declination: declination + (north * years) / 3_600_000,
			};
		},
	);
	return stars as readonly CatalogueStar[];
}

const turnZ = (v: V, degrees: number): V => spin([0, 0, 1], degrees, v);
const turnY = (v: V, degrees: number): V => spin([0, -1, 0], degrees, v);

export interface Place {
	readonly latitude: number;
	readonly longitude: number;
	/** hPa and °C. */
	readonly pressure: number;
	readonly temperature: number;
}

/** Direction (east, north, up) of a J2000 place without refraction. */
export function airless(place: Place, at: number): (rightAscension: number, declination: number) => V {
	const days = at / 86_400_000 - 10957.5;
	const t = (days + 69.184 / 86400) / 36525;
	const zeta = (2306.2181 * t + 0.30188 * t * t + 0.017998 * t ** 3) / 3600;
	const z = (2306.2181 * t + 1.09468 * t * t + 0.018203 * t ** 3) / 3600;
	const theta = (2004.3109 * t - 0.42665 * t * t - 0.041833 * t ** 3) / 3600;
	const node = (125.04452 - 1934.136261 * t) * R;
	const sunMean = (280.4665 + 36000.7698 * t) * R;
	const moonMean = (218.3165 + 481267.8813 * t) * R;
	const psi =
		(-17.2 * Math.sin(node) -
			1.32 * Math.sin(2 * sunMean) -
			0.23 * Math.sin(2 * moonMean) +
			0.21 * Math.sin(2 * node)) /
		3600;
	const epsilonChange =
		(9.2 * Math.cos(node) + 0.57 * Math.cos(2 * sunMean) + 0.1 * Math.cos(2 * moonMean) - 0.09 * Math.cos(2 * node)) /
		3600;
	const epsilon = 23.4392911 - 0.0130042 * t;
	const anomaly = (357.52911 + 35999.05029 * t) * R;
	const sun = 280.46646 + 36000.76983 * t + 1.914602 * Math.sin(anomaly) + 0.019993 * Math.sin(2 * anomaly);
	const [k, e, perihelion] = [(20.49552 / 3600) * R, 0.016708634, 102.93735];
	const l = (sun - 90) * R;
	const p = (perihelion + 90) * R;
	// Meeus 23.2 as a vector: toward the apex, less the orbit's own constant part.
	const inEcliptic: V = [k * (Math.cos(l) + e * Math.cos(p)), k * (Math.sin(l) + e * Math.sin(p)), 0];
	const velocity = spin([1, 0, 0], epsilon, inEcliptic);
	const sidereal =
		280.46061837 + 360.98564736629 * days + 0.000387933 * t * t + psi * Math.cos(epsilon * R) + place.longitude;
	return (rightAscension, declination) => {
		const fixed = dir(90 - rightAscension, declination);
		const mean = turnZ(turnY(turnZ(fixed, zeta), theta), z);
		const moved = norm(add(mean, velocity));
		const nutated = spin([1, 0, 0], epsilon + epsilonChange, turnZ(spin([1, 0, 0], -epsilon, moved), psi));
		const hour = turnZ(nutated, -sidereal);
		// x to the meridian, y to the east, z to the pole.
		const [s, c] = [Math.sin(place.latitude * R), Math.cos(place.latitude * R)];
		return [hour[1], c * hour[2] - s * hour[0], c * hour[0] + s * hour[2]];
	};
}

/** A direction as it is seen. */
export function lifted({ pressure, temperature }: Place, v: V): V {
	const level = Math.hypot(v[0], v[1]);
	const altitude = Math.atan2(v[2], level) / R;
	if (altitude < -1) return v;
	const lift =
		((1.02 / 60 / Math.tan((altitude + 10.3 / (altitude + 5.11)) * R)) * (pressure / 1010) * 283) / (273 + temperature);
	const seen = (altitude + lift) * R;
	return [(v[0] / level) * Math.cos(seen), (v[1] / level) * Math.cos(seen), Math.sin(seen)];
}

export interface Scene extends Place {
	/** Middle of the exposure, epoch milliseconds, and its length in seconds. */
	readonly at: number;
	readonly exposure: number;
	/** Where the frame's middle looks at `framedAt`, seen; degrees. */
	readonly azimuth: number;
	readonly altitude: number;
	/** Clockwise, as the camera looks. */
	readonly roll: number;
	readonly framedAt?: number;
	/** None: the camera stands still. */
	readonly tracker?: {
		readonly along: number;
		readonly across: number;
		readonly rate?: number;
		/** Degrees, seconds and degrees. */
		readonly periodic?: { readonly amplitude: number; readonly period: number; readonly phase: number };
	};
	/** Millimetres. */
	readonly focal: number;
	readonly sensorWidth: number;
	readonly width: number;
	readonly height: number;
	/** At the corner, the parts of the second and the fourth power. */
	readonly k1?: number;
	readonly k2?: number;
	/** Of the optical axis, pixels. */
	readonly axisRight?: number;
	readonly axisUp?: number;
	readonly seed?: number;
	/** Standard deviation of the point spread, pixels. */
	readonly blur?: number;
	/** Electrons of a star of magnitude 0 in a second, of the sky on a pixel; of the sky's slope across the frame, 0 … 1. */
	readonly light?: number;
	readonly glow?: number;
	readonly slope?: number;
	/** Altitude of the ground by bearing. */
	readonly ground?: (bearing: number) => number;
	readonly hotPixels?: number;
	readonly satellites?: number;
	/** Bright blots that are no stars. */
	readonly fakes?: number;
	readonly faintest?: number;
}

type Held = readonly [right: V, up: V, forward: V];

/** How the camera is held at a time. */
export function heldAt(scene: Scene, at: number): Held {
	const { azimuth, altitude, roll, latitude, tracker } = scene;
	const forward = dir(azimuth, altitude);
	const level = norm(cross(forward, [0, 0, 1]));
	const right = spin(forward, roll, level);
	const up = cross(right, forward);
	if (!tracker) return [right, up, forward];
	const seconds = (at - (scene.framedAt ?? scene.at)) / 1000;
	const p = tracker.periodic;
	const swing = (t: number) => (p ? p.amplitude * Math.sin((360 * t * R) / p.period + p.phase * R) : 0);
	const turned = (tracker.rate ?? 1) * (15.0410686 / 3600) * seconds + swing(seconds) - swing(0);
	const axis = axisOf(latitude, tracker.along, tracker.across);
	const north = latitude >= 0 ? 1 : -1;
	const by = (v: V) => spin(axis, -north * turned, v);
	return [by(right), by(up), by(forward)];
}

/** The axis (east, north, up) near the pole that is up. */
export function axisOf(latitude: number, along: number, across: number): V {
	const p = pole(latitude);
	const size = Math.hypot(along, across);
	if (size === 0) return p;
	const up = norm(add([0, 0, 1], scale(p, -p[2])));
	const clockwise = dir(latitude >= 0 ? 90 : 270, 0);
	const way = norm(add(scale(up, along), scale(clockwise, across)));
	return add(scale(p, Math.cos(size * R)), scale(way, Math.sin(size * R)));
}

/** Where a seen direction falls, pixels right and up of the middle. */
export function pointAt(scene: Scene, [right, up, forward]: Held, v: V): readonly [number, number] | undefined {
	const z = dot(v, forward);
	if (z < 0.05) return undefined;
	const perMm = scene.width / scene.sensorWidth;
	const [x, y] = [(scene.focal * perMm * dot(v, right)) / z, (scene.focal * perMm * dot(v, up)) / z];
	const rho2 = (x * x + y * y) / ((scene.width ** 2 + scene.height ** 2) / 4);
	if (rho2 > 1.7) return undefined;
	const real = 1 + (scene.k1 ?? 0) * rho2 + (scene.k2 ?? 0) * rho2 * rho2;
	return [x * real + (scene.axisRight ?? 0), y * real + (scene.axisUp ?? 0)];
}

/** The direction that falls on a place: by Newton on the above. */
export function directionAt(scene: Scene, held: Held, x: number, y: number): V {
	const perMm = scene.width / scene.sensorWidth;
	let [a, b] = [x / (scene.focal * perMm), y / (scene.focal * perMm)];
	const of = (p: number, q: number): V => norm(add(add(scale(held[0], p), scale(held[1], q)), held[2]));
	for (let i = 0; i < 6; i++) {
		const at = pointAt(scene, held, of(a, b));
		if (!at) break;
		a += (x - at[0]) / (scene.focal * perMm);
		b += (y - at[1]) / (scene.focal * perMm);
	}
	return of(a, b);
}

/** J2000 place whose seen direction is this, degrees: by stepping. */
export function placeOf(place: Place, at: number, seen: V): readonly [rightAscension: number, declination: number] {
	const to = airless(place, at);
	const look = (ra: number, dec: number): V => lifted(place, to(ra, dec));
	let best: [number, number] = [0, 0];
	let least = 999;
	for (let ra = 0; ra < 360; ra += 15)
		for (let dec = -82.5; dec < 90; dec += 15) {
			const off = angle(look(ra, dec), seen);
			if (off < least) [least, best] = [off, [ra, dec]];
		}
	for (let step = 10; step > 1e-8; step /= 2)
		for (let again = true; again; ) {
			again = false;
			for (const [east, north] of [
				[step, 0],
				[-step, 0],
				[0, step],
				[0, -step],
			] as const) {
				const next: [number, number] = [best[0] + east / Math.max(0.02, Math.cos(best[1] * R)), best[1] + north];
				if (Math.abs(next[1]) >= 90) continue;
				const off = angle(look(...next), seen);
				if (off < least) {
					[least, best] = [off, next];
					again = true;
				}
			}
		}
	return [((best[0] % 360) + 360) % 360, best[1]];
}

/** Where the middle looks and which way its top points: J2000, degrees; position angle from north through east. */
export function truth(scene: Scene): {
	readonly rightAscension: number;
	readonly declination: number;
	readonly positionAngle: number;
} {
	const held = heldAt(scene, scene.at);
	const [rightAscension, declination] = placeOf(scene, scene.at, directionAt(scene, held, 0, 0));
	const [ra, dec] = placeOf(scene, scene.at, directionAt(scene, held, 0, scene.height / 20));
	const d = (ra - rightAscension) * R;
	const positionAngle =
		Math.atan2(Math.sin(d), Math.cos(declination * R) * Math.tan(dec * R) - Math.sin(declination * R) * Math.cos(d)) /
		R;
	return { rightAscension, declination, positionAngle };
}

/** A row of numbers that looks like chance. */
export function chance(seed: number): () => number {
	let state = seed >>> 0;
	return () => {
		state = (state + 0x6d2b79f5) >>> 0;
		let t = Math.imul(state ^ (state >>> 15), 1 | state);
		t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
		return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
	};
}

/** The stars of a scene: places at the beginning, at the end and in the middle of the exposure. */
export function starsOf(scene: Scene): readonly {
	readonly magnitude: number;
	readonly path: readonly (readonly [number, number])[];
	readonly altitude: number;
}[] {
	const { at, exposure, latitude } = scene;
	const to = airless(scene, at);
	const north = pole(latitude);
	const sense = latitude >= 0 ? 1 : -1;
	const steps = exposure > 0 ? 24 : 0;
	const times = Array.from({ length: steps + 1 }, (_, i) => (steps === 0 ? 0 : (i / steps - 0.5) * exposure));
	const held = times.map((t) => heldAt(scene, at + t * 1000));
	const middle = held[steps / 2] as Held;
	return catalogue().flatMap(({ magnitude, rightAscension, declination }) => {
		if (magnitude > (scene.faintest ?? 8)) return [];
		const v = to(rightAscension, declination);
		if (v[2] < -0.02 || dot(v, middle[2]) < 0.05) return [];
		const rough = pointAt(scene, middle, lifted(scene, v));
		if (!rough || Math.abs(rough[0]) > scene.width * 0.55 || Math.abs(rough[1]) > scene.height * 0.55) return [];
		const path = times.flatMap((t, i) => {
			const seen = lifted(scene, spin(north, -sense * (15.0410686 / 3600) * t, v));
			const point = pointAt(scene, held[i] as Held, seen);
			return point ? [point] : [];
		});
		return [{ magnitude, path, altitude: Math.asin(v[2]) / R }];
	});
}

const NORMALS = (() => {
	const random = chance(7);
	return Float32Array.from(
		{ length: 65536 },
		() => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random()),
	);
})();

/** The picture, grey, 16 bits, rows from the top. */
export function render(scene: Scene): Uint16Array {
	const { width, height, exposure } = scene;
	const random = chance(scene.seed ?? 1);
	const blur = scene.blur ?? 1.1;
	const light = scene.light ?? 60_000;
	const time = Math.max(exposure, 1);
	const field = new Float32Array(width * height);
	const reach = Math.ceil(4 * blur);
	const [inX, inY] = [new Float64Array(2 * reach + 1), new Float64Array(2 * reach + 1)];
	const splat = (x: number, y: number, electrons: number): void => {
		const [px, py] = [x + (width - 1) / 2, (height - 1) / 2 - y];
		const [cx, cy] = [Math.round(px), Math.round(py)];
		if (cx < -reach || cy < -reach || cx > width + reach || cy > height + reach) return;
		for (let i = -reach; i <= reach; i++) {
			inX[i + reach] = Math.exp(-((cx + i - px) ** 2) / (2 * blur * blur));
			inY[i + reach] = (electrons / (2 * Math.PI * blur * blur)) * Math.exp(-((cy + i - py) ** 2) / (2 * blur * blur));
		}
		for (let row = Math.max(0, cy - reach); row <= Math.min(height - 1, cy + reach); row++)
			for (let column = Math.max(0, cx - reach); column <= Math.min(width - 1, cx + reach); column++)
				field[row * width + column] =
					(field[row * width + column] as number) +
					(inX[column - cx + reach] as number) * (inY[row - cy + reach] as number);
	};
	for (const { magnitude, path, altitude } of starsOf(scene)) {
		const dimmed = magnitude + 0.2 / Math.max(0.05, Math.sin(altitude * R));
		const electrons = light * time * 10 ** (-0.4 * dimmed);
		for (let i = 0; i < Math.max(1, path.length - 1); i++) {
			const [a, b] = [path[i], path[i + 1] ?? path[i]] as [readonly [number, number], readonly [number, number]];
			const parts = Math.max(1, Math.ceil(Math.hypot(b[0] - a[0], b[1] - a[1]) / 0.4));
			for (let k = 0; k < parts; k++) {
				const s = (k + 0.5) / parts;
				splat(a[0] + s * (b[0] - a[0]), a[1] + s * (b[1] - a[1]), electrons / parts / Math.max(1, path.length - 1));
			}
		}
	}
	for (let i = 0; i < (scene.fakes ?? 0); i++)
		splat((random() - 0.5) * width, (random() - 0.5) * height, light * time * 10 ** (-0.4 * (1 + 5 * random())));
	for (let i = 0; i < (scene.satellites ?? 0); i++) {
		const [x, y, way] = [(random() - 0.5) * width, (random() - 0.5) * height, random() * 6.28];
		const length = (0.1 + random()) * width;
		for (let k = 0; k < length; k += 0.7)
			splat(x + k * Math.cos(way), y + k * Math.sin(way), light * time * 10 ** (-0.4 * 6.5));
	}
	const held = heldAt(scene, scene.at);
	const glow = (scene.glow ?? 40) * time;
	const slope = scene.slope ?? 0.5;
	const picture = new Uint16Array(width * height);
	const block = 8;
	const hidden = new Uint8Array(Math.ceil(width / block));
	let at = Math.floor(random() * 65536);
	// So that the sky comes out at a quarter of the range before the curve.
	const white = 12 * glow + 2000;
	for (let row = 0; row < height; row++) {
		if (scene.ground && row % block === 0)
			for (let k = 0; k < hidden.length; k++) {
				const [x, y] = [k * block + block / 2 - width / 2, height / 2 - row - block / 2];
				const v = directionAt(scene, held, x, y);
				hidden[k] = Math.asin(v[2]) / R < scene.ground((Math.atan2(v[0], v[1]) / R + 360) % 360) ? 1 : 0;
			}
		for (let column = 0; column < width; column++) {
			const dark = hidden[column >> 3] === 1;
			const sky = glow * (1 + slope * (row / height - 0.5) + 0.3 * slope * (column / width - 0.5));
			const light1 = dark ? 0.08 * glow : sky + (field[row * width + column] as number);
			at = (at + 1) & 65535;
			if ((at & 1023) === 0) at = Math.floor(random() * 65536);
			const electrons = light1 + (NORMALS[at] as number) * Math.sqrt(light1 + 25) + 60;
			picture[row * width + column] = Math.min(
				65535,
				Math.max(0, 65535 * (Math.max(0, electrons) / white) ** (1 / 2.2)),
			);
		}
	}
	for (let i = 0; i < (scene.hotPixels ?? 0); i++) picture[Math.floor(random() * width * height)] = 65535;
	return picture;
}

export { R };
