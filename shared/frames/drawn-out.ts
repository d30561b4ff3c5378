/**
 * How far the stars of a frame were drawn out over its exposure, and what axis and drive do so.
 *
 * A spot has a length and a direction, and no sense: the trail of an axis that is off one way is that of one off the
 * other way. What refraction adds is the same for both, so that one of the two may fit better.
 */
import { northPole } from "../alignment/attitude.ts";
import { type AxisVector, axisVector, type Covariance, hemisphere } from "../alignment/axis-error.ts";
import { Kept } from "../memory/memory.ts";
import { SKY_RATE_RAD } from "../sky/frame.ts";
import { toDirection, toVector } from "../sky/horizontal.ts";
import type { Spot as Site } from "../sky/place.ts";
import { apparentAltitude, trueAltitude } from "../sky/refraction.ts";
import { times, turnAbout, type Vector } from "../sky/vector.ts";
import { median, type Spot } from "./find-stars.ts";
import { inCamera, invert } from "./fit.ts";
import { type LensMap, pixelOf } from "./lens-map.ts";
import type { SolvedFrame } from "./solve.ts";

/** A trail: pixels right and up from its one end to the other; either end may be the first. */
export interface Drawn {
	readonly right: number;
	readonly up: number;
	readonly length: number;
}

/**
 * The trail of a spot whose round neighbours have a spread `blur`. `chance`: standard deviation of its two moments of
 * shape, (rightRight − upUp) / 2 and rightUp, square pixels, where that is known. What chance alone would give one of
 * fifty round stars is no trail; of what is longer, chance's part is taken off.
 */
export function drawnOut({ rightRight, upUp, rightUp, windowed }: Spot, blur: number, chance = 0): Drawn {
	const seen = ((rightRight - upUp) / 2) ** 2 + rightUp ** 2;
	const byChance = 2 * chance * chance;
	const half = seen < 4 * byChance ? 0 : Math.sqrt(seen - byChance);
	const long = (rightRight + upUp) / 2 + half;
	const own = (rightRight + upUp) / 2 - half;
	// The narrow side is the point spread; of a short trail half of what is seen there is chance.
	const round = Math.max(0.2, Math.min(own, 1.3 * blur * blur));
	const length = windowed
		? lengthOf(Math.sqrt(long / round)) * Math.sqrt(round)
		: Math.sqrt(12 * Math.max(0, long - round));
	const angle = Math.atan2(2 * rightUp, rightRight - upUp) / 2;
	return { right: length * Math.cos(angle), up: length * Math.sin(angle), length };
}

/** Lengths of which the spread is tabled, in point spreads. */
const LENGTHS = Array.from({ length: 61 }, (_, i) => (i < 20 ? i / 4 : 5 + (i - 20) * 1.5));
const spreads = new Kept<number, number>(LENGTHS.length);

/** The length of a trail, in point spreads, whose spread under a window of its own is this many of them. */
function lengthOf(spread: number): number {
	let i = 1;
	while (i < LENGTHS.length - 1 && spreads.of(i, spreadOf) < spread) i++;
	const [a, b] = [spreads.of(i - 1, spreadOf), spreads.of(i, spreadOf)];
	const [from, to] = [LENGTHS[i - 1] as number, LENGTHS[i] as number];
	// In squares, which are nearly straight.
	const part = (spread * spread - a * a) / (b * b - a * a);
	return Math.sqrt(Math.max(0, from * from + part * (to * to - from * from)));
}

/** The spread, under a Gaussian window of twice its variance there, of a line of that length drawn by a Gaussian of 1. */
function spreadOf(index: number): number {
	const half = (LENGTHS[index] as number) / 2;
	let sigma = 1 + half / 2;
	for (let step = 0; step < 60; step++) {
		let [sum, square] = [0, 0];
		for (let x = -half - 5; x <= half + 5; x += 0.05) {
			const w =
				(normal(x + half) - normal(x - half) + (half === 0 ? Math.exp((-x * x) / 2) : 0)) *
				Math.exp((-x * x) / (2 * sigma * sigma));
			sum += w;
			square += w * x * x;
		}
		sigma = Math.sqrt((2 * square) / sum);
	}
	return sigma;
}

/** Share of a normal distribution below x, by its logistic likeness made exact to 1e-4 (Bowling and others 2009, from memory). */
const normal = (x: number): number => 1 / (1 + Math.exp(-(0.07056 * x ** 3 + 1.5976 * x)));

/** A part of the frame with its trail. */
export interface FramePart {
	/** Its middle, pixels right and up of the frame's. */
	readonly right: number;
	readonly up: number;
	readonly stars: number;
	readonly drawn: Drawn;
}

/** Columns and rows of parts, and stars that one needs. */
const PARTS = [4, 3] as const;
const LEAST_STARS = 4;

function partsOf(frame: SolvedFrame): readonly FramePart[] {
	const [columns, rows] = PARTS;
	const { width, height, found } = frame;
	const parts: FramePart[] = [];
	for (let row = 0; row < rows; row++)
		for (let column = 0; column < columns; column++) {
			const right = ((column + 0.5) / columns - 0.5) * width;
			const up = ((row + 0.5) / rows - 0.5) * height;
			const spots = frame.stars
				.map(({ spot }) => spot)
				.filter(
					(one) => Math.abs(one.right - right) <= width / columns / 2 && Math.abs(one.up - up) <= height / rows / 2,
				);
			if (spots.length < LEAST_STARS) continue;
			const together: Spot = {
				...(spots[0] as Spot),
				windowed: spots.filter(({ windowed }) => windowed).length * 2 > spots.length,
				rightRight: median(spots.map((one) => one.rightRight)),
				upUp: median(spots.map((one) => one.upUp)),
				rightUp: median(spots.map((one) => one.rightUp)),
			};
			const chance = Math.hypot(
				scatterOfMedian(spots.map((one) => (one.rightRight - one.upUp) / 2)),
				scatterOfMedian(spots.map((one) => one.rightUp)),
			);
			parts.push({ right, up, stars: spots.length, drawn: drawnOut(together, found.blur, chance / Math.SQRT2) });
		}
	return parts;
}

/**
 * Standard deviation of a median, by the middle deviation from it: 1.4826 of these are one standard deviation of a normal
 * distribution, and the median of n of its values scatters by 1.2533 / √n of that (from memory; any text on robust statistics).
 */
function scatterOfMedian(values: readonly number[]): number {
	const middle = median(values);
	return (1.2533 * 1.4826 * median(values.map((one) => Math.abs(one - middle)))) / Math.sqrt(values.length);
}

/** What a frame's trails say. */
export interface TrailReading {
	/** Trails of the stars by themselves, in the order of the frame's. */
	readonly drawn: readonly Drawn[];
	/** Trails by parts of the frame, each from the stars there together: what chance does to one star is not in them. */
	readonly parts: readonly FramePart[];
	/** Middle length of the parts and the longest, pixels. */
	readonly usual: number;
	readonly long: number;
	/** Axis error that fits best, up to its sense, with its covariance and the root mean square of what is left, pixels. */
	readonly axis:
		| {
				readonly error: AxisVector;
				readonly covariance: Covariance;
				/** How much faster (or slower) than the sky the drive ran on the whole, degrees a degree. */
				readonly rate: number;
				readonly left: number;
				/** What is left for the axis error of the other sense. */
				readonly leftOtherwise: number;
		  }
		| undefined;
}

/** The displacement of a frame's stars over an exposure for an axis error and a rate of the drive, pixels right and up. */
export function displacements(
	frame: SolvedFrame,
	map: LensMap,
	site: Site,
	exposure: number,
	error: AxisVector,
	rate: number,
): readonly (readonly [number, number])[] {
	const pole = northPole(site.latitude);
	const half = (SKY_RATE_RAD * exposure) / 2;
	const off = axisVector(site.latitude, error);
	const axis = hemisphere(site.latitude) === 1 ? off : times(off, -1);
	const held = (sense: 1 | -1) => {
		const by = (v: Vector): Vector => turnAbout(axis, -sense * rate * half, v);
		const { right, up, forward } = frame.attitude;
		return { right: by(right), up: by(up), forward: by(forward) };
	};
	const [before, after] = [held(-1), held(1)];
	return frame.stars.map(({ direction }) => {
		const { azimuth, altitude } = toDirection(direction);
		const still = toVector({ azimuth, altitude: trueAltitude(altitude, site.air) });
		const place = (sense: 1 | -1) => {
			const moved = toDirection(turnAbout(pole, -sense * half, still));
			const seen = toVector({ azimuth: moved.azimuth, altitude: apparentAltitude(moved.altitude, site.air) });
			return pixelOf(map, inCamera(sense < 0 ? before : after, seen));
		};
		const [from, to] = [place(-1), place(1)];
		return from && to ? [to[0] - from[0], to[1] - from[1]] : [0, 0];
	});
}

/** Reads the trails of a frame. `rate`: of the tracker, 0 for a camera that stands still. */
export function readTrails(frame: SolvedFrame, map: LensMap, site: Site, exposure: number, rate: number): TrailReading {
	const drawn = frame.stars.map(({ spot }) => drawnOut(spot, frame.found.blur));
	const parts = partsOf(frame);
	// Of too few stars all together are one part.
	const lengths = (parts.length > 0 ? parts.map((part) => part.drawn) : drawn).map(({ length }) => length);
	return {
		drawn,
		parts,
		usual: median(lengths),
		long: Math.max(0, ...lengths),
		axis: rate > 0 && exposure > 0 ? axisOf(frame, map, site, exposure, rate, drawn) : undefined,
	};
}

/** Of shorter trails chance turns too many, pixels; and a lens's own faults are this much. */
const SHORTEST = 3;
const LENS_FAULTS = 0.3;

function axisOf(
	frame: SolvedFrame,
	map: LensMap,
	site: Site,
	exposure: number,
	rate: number,
	drawn: readonly Drawn[],
): TrailReading["axis"] {
	if (drawn.length < 8) return undefined;
	const step = 0.1;
	const at = (along: number, across: number, drive: number) =>
		displacements(frame, map, site, exposure, { along, across }, rate + drive);
	const still = at(0, 0, 0);
	const slopes = [at(step, 0, 0), at(0, step, 0), at(0, 0, 0.001)].map((moved, k) =>
		moved.map(([x, y], i) => {
			const [x0, y0] = still[i] as readonly [number, number];
			const by = k === 2 ? 0.001 : step;
			return [(x - x0) / by, (y - y0) / by] as const;
		}),
	);
	const solve = (start: (i: number) => 1 | -1) => {
		let senses = drawn.map((_, i) => start(i));
		let answer: readonly number[] = [0, 0, 0];
		let [left, inverse] = [Number.POSITIVE_INFINITY, undefined as readonly Float64Array[] | undefined];
		for (let round = 0; round < 12; round++) {
			const normalMatrix = [0, 1, 2].map(() => new Float64Array(3));
			const target = [0, 0, 0];
			const residual = (i: number): readonly [number, number] => {
				const { right, up } = drawn[i] as Drawn;
				const [x0, y0] = still[i] as readonly [number, number];
				const sense = senses[i] as number;
				const model = (axis: 0 | 1) =>
					answer.reduce((sum, one, k) => sum + one * ((slopes[k]?.[i]?.[axis] as number) ?? 0), 0);
				return [sense * right - x0 - model(0), sense * up - y0 - model(1)];
			};
			const sizes = drawn.map((_, i) => Math.hypot(...residual(i))).sort((a, b) => a - b);
			const limit = round === 0 ? Number.POSITIVE_INFINITY : 4 * (sizes[sizes.length >> 1] as number) + 0.05;
			let [sum, count] = [0, 0];
			drawn.forEach((_, i) => {
				const [rx, ry] = residual(i);
				if (Math.hypot(rx, ry) > limit) return;
				sum += rx * rx + ry * ry;
				count += 2;
				for (let k = 0; k < 3; k++) {
					const [kx, ky] = slopes[k]?.[i] ?? [0, 0];
					target[k] = (target[k] as number) + kx * rx + ky * ry;
					for (let l = 0; l < 3; l++) {
						const [lx, ly] = slopes[l]?.[i] ?? [0, 0];
						const row = normalMatrix[k] as Float64Array;
						row[l] = (row[l] as number) + kx * lx + ky * ly;
					}
				}
			});
			left = Math.sqrt(sum / Math.max(1, count - 3));
			inverse = invert(normalMatrix);
			if (!inverse) break;
			const found = inverse;
			answer = answer.map((one, k) => one + target.reduce((total, t, l) => total + t * (found[k]?.[l] ?? 0), 0));
			senses = drawn.map(({ right, up }, i) => {
				const [x0, y0] = still[i] as readonly [number, number];
				const mx = x0 + answer.reduce((total, one, k) => total + one * (slopes[k]?.[i]?.[0] ?? 0), 0);
				const my = y0 + answer.reduce((total, one, k) => total + one * (slopes[k]?.[i]?.[1] ?? 0), 0);
				return right * mx + up * my < 0 ? -1 : 1;
			});
		}
		return { answer, left, inverse };
	};
	const usual = drawn.map(({ length }) => length).sort((a, b) => a - b)[drawn.length >> 1] as number;
	if (usual < SHORTEST) return undefined;
	// All one way, or about the middle; each in both senses.
	const [x, y] = drawn.reduce(([a, b], { right, up }) => [a + right * right - up * up, b + 2 * right * up], [0, 0]) as [
		number,
		number,
	];
	const way = Math.atan2(y, x) / 2;
	const sign = (value: number): 1 | -1 => (value < 0 ? -1 : 1);
	const along = (i: number) => sign((drawn[i]?.right ?? 0) * Math.cos(way) + (drawn[i]?.up ?? 0) * Math.sin(way));
	const about = (i: number) => {
		const { spot } = frame.stars[i] as SolvedFrame["stars"][number];
		return sign((drawn[i]?.up ?? 0) * spot.right - (drawn[i]?.right ?? 0) * spot.up);
	};
	const starts = [along, (i: number) => -along(i) as 1 | -1, about, (i: number) => -about(i) as 1 | -1];
	const solutions = starts.map(solve).sort((a, b) => a.left - b.left);
	const [best] = solutions;
	if (!best?.inverse) return undefined;
	const [a = 0, c = 0, drive = 0] = best.answer;
	const other = solutions.find(({ answer: [p = 0, q = 0] }) => p * a + q * c < 0);
	const variance = best.left * best.left + LENS_FAULTS * LENS_FAULTS;
	return {
		error: { along: a, across: c },
		covariance: {
			alongAlong: variance * (best.inverse[0]?.[0] ?? 0),
			alongAcross: variance * (best.inverse[0]?.[1] ?? 0),
			acrossAcross: variance * (best.inverse[1]?.[1] ?? 0),
		},
		rate: drive,
		left: best.left,
		leftOtherwise: other?.left ?? Number.POSITIVE_INFINITY,
	};
}
