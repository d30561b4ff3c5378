/**
 * Attitudes of one or several frames and the lens they share, from stars whose places on them were measured: least
 * squares, with weights that leave what does not fit out of account (Tukey's biweight), and with what is known of
 * lenses beforehand, so that a few stars do not invent a distortion.
 */
import type { Attitude } from "../alignment/attitude.ts";
import { cross, dot, plus, times, unit, type Vector } from "../sky/vector.ts";
import { type LensMap, pixelOf } from "./lens-map.ts";

/** A star with its direction (a unit vector) and its measured place, pixels right and up of the middle. */
export interface Sighting {
	readonly direction: Vector;
	readonly right: number;
	readonly up: number;
	/** One standard deviation of the place, pixels. */
	readonly spread: number;
}

/** How much of the lens is solved: nothing, the focal length, the main term of the distortion too, or all. */
export type Freedom = "attitude" | "focal" | "bent" | "lens";

const LENS_PARAMETERS = { attitude: 0, focal: 1, bent: 2, lens: 5 } as const satisfies Record<Freedom, number>;

export interface Fit {
	readonly attitudes: readonly Attitude[];
	readonly map: LensMap;
	/** Root mean square distance of the stars that fit, pixels in one coordinate. */
	readonly rms: number;
	/** Covariance of the attitudes' turns about right, up and forward (radians), three of each frame, then the lens. */
	readonly covariance: readonly Float64Array[];
}

/** What lenses are like, one standard deviation: focal length, k₁, axis in half diagonals, k₂. No source. */
const USUAL = { focal: 0.03, k1: 0.03, axis: 0.008, k2: 0.01 } as const;

/** Turns an attitude by small angles about its own right, up and forward. */
export function turned({ right, up, forward }: Attitude, [a, b, c]: Vector): Attitude {
	const w = plus(plus(times(right, a), times(up, b)), times(forward, c));
	const f = unit(plus(forward, cross(w, forward)));
	const u = plus(up, cross(w, up));
	const r = unit(cross(f, u));
	return { right: r, up: cross(r, f), forward: f };
}

/** A direction in the camera's own right, up and forward. */
export const inCamera = ({ right, up, forward }: Attitude, v: Vector): Vector => [
	dot(right, v),
	dot(up, v),
	dot(forward, v),
];

function lensTurned(map: LensMap, parameter: number, by: number, start: LensMap): LensMap {
	switch (parameter) {
		case 0:
			return { ...map, focal: map.focal + by * start.focal };
		case 1:
			return { ...map, k1: map.k1 + by };
		case 2:
			return { ...map, axisRight: map.axisRight + by * start.focal };
		case 3:
			return { ...map, axisUp: map.axisUp + by * start.focal };
		default:
			return { ...map, k2: map.k2 + by };
	}
}

const STEP = 1e-6;

/**
 * Fits frames that were taken through one lens. `robust`: a star this many pixels away does not count at all.
 * `around`: the lens as it was expected, where what is usual counts from; `from` where the search starts.
 */
export function fitFrames(
	frames: readonly { readonly sightings: readonly Sighting[]; readonly attitude: Attitude }[],
	from: LensMap,
	freedom: Freedom,
	robust: number,
	around: LensMap,
	steps = 8,
): Fit {
	const lensCount = LENS_PARAMETERS[freedom];
	const size = 3 * frames.length + lensCount;
	let map = from;
	let attitudes = frames.map(({ attitude }) => attitude);
	let rms = robust;
	let covariance: readonly Float64Array[] = [];
	const half = Math.sqrt(from.width ** 2 + from.height ** 2) / 2;
	// Spreads in the units of the parameters.
	const known = [
		USUAL.focal,
		USUAL.k1,
		(USUAL.axis * half) / around.focal,
		(USUAL.axis * half) / around.focal,
		USUAL.k2,
	];
	for (let step = 0; step < steps; step++) {
		const normal = Array.from({ length: size }, () => new Float64Array(size));
		const target = new Float64Array(size);
		let [sum, weights] = [0, 0];
		const variance = Math.max(rms, 0.03) ** 2;
		frames.forEach(({ sightings }, frame) => {
			const attitude = attitudes[frame] as Attitude;
			const moved = [0, 1, 2].map((i) =>
				turned(attitude, [i === 0 ? STEP : 0, i === 1 ? STEP : 0, i === 2 ? STEP : 0]),
			);
			const lenses = Array.from({ length: lensCount }, (_, i) => lensTurned(map, i, STEP, around));
			for (const { direction, right, up, spread } of sightings) {
				const inside = inCamera(attitude, direction);
				const at = pixelOf(map, inside);
				if (!at) continue;
				const [dx, dy] = [right - at[0], up - at[1]];
				const distance = Math.sqrt(dx * dx + dy * dy) / robust;
				if (distance >= 1) continue;
				const weight = (1 - distance * distance) ** 2 / (1 + spread * spread);
				sum += weight * (dx * dx + dy * dy);
				weights += 2 * weight;
				const columns: number[] = [];
				const slopes: (readonly [number, number])[] = [];
				const add = (column: number, to: readonly [number, number] | undefined) => {
					if (!to) return;
					columns.push(column);
					slopes.push([(to[0] - at[0]) / STEP, (to[1] - at[1]) / STEP]);
				};
				moved.forEach((one, i) => {
					add(3 * frame + i, pixelOf(map, inCamera(one, direction)));
				});
				lenses.forEach((one, i) => {
					add(3 * frames.length + i, pixelOf(one, inside));
				});
				for (let i = 0; i < columns.length; i++) {
					const [sx, sy] = slopes[i] as readonly [number, number];
					const row = normal[columns[i] as number] as Float64Array;
					target[columns[i] as number] = (target[columns[i] as number] as number) + weight * (sx * dx + sy * dy);
					for (let j = 0; j < columns.length; j++) {
						const [tx, ty] = slopes[j] as readonly [number, number];
						row[columns[j] as number] = (row[columns[j] as number] as number) + weight * (sx * tx + sy * ty);
					}
				}
			}
		});
		if (weights === 0) break;
		const free = Math.max(1, weights - size);
		rms = Math.sqrt(sum / free);
		const off = [
			map.focal / around.focal - 1,
			map.k1 - around.k1,
			(map.axisRight - around.axisRight) / around.focal,
			(map.axisUp - around.axisUp) / around.focal,
			map.k2 - around.k2,
		];
		for (let i = 0; i < lensCount; i++) {
			const at = 3 * frames.length + i;
			const weight = variance / (known[i] as number) ** 2;
			const row = normal[at] as Float64Array;
			row[at] = (row[at] as number) + weight;
			target[at] = (target[at] as number) - weight * (off[i] as number);
		}
		const inverse = invert(normal);
		if (!inverse) break;
		covariance = inverse.map((row) => row.map((one) => one * rms * rms));
		const change = inverse.map((row) => row.reduce((total, one, i) => total + one * (target[i] as number), 0));
		attitudes = attitudes.map((one, i) =>
			turned(one, [change[3 * i] as number, change[3 * i + 1] as number, change[3 * i + 2] as number]),
		);
		let next = map;
		for (let i = 0; i < lensCount; i++) next = lensTurned(next, i, change[3 * frames.length + i] as number, around);
		if (!(next.focal > 0.5 * around.focal && next.focal < 2 * around.focal && Math.abs(next.k1) < 0.3)) break;
		map = next;
		if (change.every((one) => Math.abs(one) < 1e-9)) break;
	}
	return { attitudes, map, rms, covariance };
}

/** The inverse of a symmetric positive matrix, by Gauss and Jordan; undefined where it has none. */
export function invert(matrix: readonly Float64Array[]): readonly Float64Array[] | undefined {
	const n = matrix.length;
	// Scaled to a diagonal of ones, so that parameters of different sizes do not disturb each other.
	const scale = matrix.map((row, i) => 1 / Math.sqrt(row[i] as number));
	if (scale.some((one) => !Number.isFinite(one))) return undefined;
	const a: Float64Array[] = matrix.map((row, i) => {
		const wide = new Float64Array(2 * n);
		for (let j = 0; j < n; j++) wide[j] = (row[j] as number) * (scale[i] as number) * (scale[j] as number);
		wide[n + i] = 1;
		return wide;
	});
	for (let i = 0; i < n; i++) {
		let best = i;
		for (let k = i + 1; k < n; k++)
			if (Math.abs((a[k] as Float64Array)[i] as number) > Math.abs((a[best] as Float64Array)[i] as number)) best = k;
		[a[i], a[best]] = [a[best] as Float64Array, a[i] as Float64Array];
		const row = a[i] as Float64Array;
		const pivot = row[i] as number;
		if (!(Math.abs(pivot) > 1e-13)) return undefined;
		for (let j = 0; j < 2 * n; j++) row[j] = (row[j] as number) / pivot;
		for (let k = 0; k < n; k++) {
			if (k === i) continue;
			const other = a[k] as Float64Array;
			const factor = other[i] as number;
			if (factor === 0) continue;
			for (let j = i; j < 2 * n; j++) other[j] = (other[j] as number) - factor * (row[j] as number);
		}
	}
	return a.map((row, i) => row.slice(n).map((one, j) => one * (scale[i] as number) * (scale[j] as number)));
}
