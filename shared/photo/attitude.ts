/**
 * Where a camera looked, from things in its photo whose directions are known.
 *
 * A place in the photo is a ray in the camera's frame (x right, y down, z forward: right-handed, as east, north and up
 * are); the attitude turns it into a direction (east, north, up). For a known focal length the best attitude is
 * Davenport's solution of Wahba's problem, the largest eigenvector of Horn's 4 × 4 matrix (B. K. P. Horn, J. Opt. Soc.
 * Am. A 4, 629, 1987). Points of which only the altitude or the bearing is known, and a focal length that is not, are fitted by
 * Levenberg and Marquardt's method from there.
 */
import { fieldAcross, focalLengthOf, largestRadius, type Projection, pointOf, rayOf } from "../optics/camera.ts";
import { toDirection, toVector } from "../sky/horizontal.ts";
import {
	cross,
	DEG,
	halfTurn,
	type Matrix,
	plus,
	RAD,
	rotate,
	separation,
	times,
	turnAbout,
	type Vector,
} from "../sky/vector.ts";

/** How a photo was drawn: by a lens, or as a whole panorama of bearings and altitudes. */
export type PhotoProjection = Projection | "equirectangular";

/** All of them, the usual one first. */
export const PHOTO_PROJECTIONS: readonly PhotoProjection[] = [
	"rectilinear",
	"equidistant",
	"equisolid",
	"equirectangular",
];

/** The photo as it was taken. */
export interface Photo {
	/** Pixels. */
	readonly width: number;
	readonly height: number;
	readonly projection: PhotoProjection;
	/** Pixels a radian at the middle; undefined where the marks have to tell. */
	readonly scale?: number | undefined;
}

/** A thing in the photo: pixels from the upper left corner, and its direction. */
export interface PhotoMark {
	readonly x: number;
	readonly y: number;
	/** True bearing, degrees; undefined for a point of known altitude alone, such as the level horizon. */
	readonly bearing: number | undefined;
	/** Apparent altitude, degrees; undefined for a thing of known bearing alone, such as a tower whose height is not known. */
	readonly altitude: number | undefined;
}

export interface Attitude {
	/** Rows are the camera's right, down and forward; columns are east, north and up. It turns directions into rays. */
	readonly axes: Matrix;
	/** Pixels a radian. */
	readonly scale: number;
	/** How far each mark is from where the photo shows it, degrees. */
	readonly residuals: readonly number[];
	/** One standard deviation of a mark, degrees. */
	readonly spread: number;
	/** Marks that do not agree with the others, by their place in the list. */
	readonly disagree: readonly number[];
	/** Whether another attitude fits as well, the camera held less level: this one is a guess until there is one more mark. */
	readonly ambiguous: boolean;
	/** Direction at a place in the photo with its ± (one standard deviation); undefined where the lens sees nothing. */
	readonly at: (x: number, y: number) => PhotoDirection | undefined;
	/** Where a direction is in the photo; undefined where it is not in front of the lens. */
	readonly place: (bearing: number, altitude: number) => readonly [x: number, y: number] | undefined;
}

export interface PhotoDirection {
	readonly bearing: number;
	readonly altitude: number;
	readonly plusMinus: number;
}

export type AttitudeProblem =
	| { readonly code: "few"; readonly needed: number; readonly found: number }
	| { readonly code: "together" }
	| { readonly code: "outside"; readonly index: number }
	| { readonly code: "undetermined" };

/** What of a projection a lens could have: a whole panorama is as wide as its angle, as with an equidistant lens. */
const lensOf = (projection: PhotoProjection): Projection =>
	projection === "equirectangular" ? "equidistant" : projection;

/** Pixels a radian of a photo that shows `field` degrees across its width. */
export const scaleAcross = ({ width, projection }: Photo, field: number): number =>
	focalLengthOf(lensOf(projection), width, field);

/** Degrees across a photo's width. */
export const fieldAcrossPhoto = ({ width, projection }: Photo, scale: number): number =>
	fieldAcross({ projection: lensOf(projection), focalLength: scale }, width);

/** A click is this sure, pixels. */
const CLICK = 1.5;

/** Solves for the attitude, and for the scale where it is not known. */
export function solveAttitude(photo: Photo, marks: readonly PhotoMark[]): Attitude | AttitudeProblem {
	const outside = marks.findIndex(({ x, y }) => !(x >= 0 && y >= 0 && x <= photo.width && y <= photo.height));
	if (outside >= 0) return { code: "outside", index: outside };
	const free = photo.scale === undefined && photo.projection !== "equirectangular";
	const known = marks.reduce((sum, mark) => sum + numbersOf(mark), 0);
	const full = marks.filter(isFull);
	const needed = free ? 3 : 2;
	if (marks.length < needed || full.length < 1 || known < (free ? 4 : 3))
		return { code: "few", needed, found: marks.length };
	const fit = bestFit(photo, marks, free);
	if (!fit) return { code: "together" };
	const jacobian = jacobianOf(photo, marks, fit, free);
	const covariance = inverse(normal(jacobian));
	if (!covariance) return { code: "undetermined" };
	const residuals = residualAngles(photo, marks, fit);
	const freedom = known - (free ? 4 : 3);
	const sum = residualsOf(photo, marks, fit).reduce((total, one) => total + one * one, 0);
	const clicked = (CLICK / fit.scale) * DEG;
	const spread = Math.max(clicked, freedom > 0 ? Math.sqrt(sum / freedom) * DEG : 0);
	return {
		axes: fit.axes,
		scale: fit.scale,
		residuals,
		spread,
		ambiguous: fit.rivals,
		disagree: disagreeing(photo, marks, free, residuals, clicked),
		at: (x, y) => {
			const direction = directionAt(photo, fit, x, y);
			if (!direction) return undefined;
			const error = errorAt(photo, fit, x, y, covariance, free);
			return { ...angles(direction), plusMinus: Math.hypot(error * spread, clicked) };
		},
		place: (bearing, altitude) => placeOf(photo, fit, vector(bearing, altitude)),
	};
}

/** A mark whose direction is known. */
type FullMark = PhotoMark & { readonly bearing: number; readonly altitude: number };

const isFull = (mark: PhotoMark): mark is FullMark => mark.bearing !== undefined && mark.altitude !== undefined;

/** How many numbers a mark gives. */
const numbersOf = ({ bearing, altitude }: PhotoMark): number =>
	(bearing === undefined ? 0 : 1) + (altitude === undefined ? 0 : 1);

interface Fit {
	readonly axes: Matrix;
	readonly scale: number;
}

/** East, north, up. */
const vector = (bearing: number, altitude: number): Vector => toVector({ azimuth: bearing, altitude });

function angles(v: Vector) {
	const { azimuth, altitude } = toDirection(v);
	return { bearing: azimuth, altitude };
}

/** The ray of a place in the photo, in the camera's frame; undefined beyond what the projection can show. */
function photoRay({ width, height, projection }: Photo, scale: number, x: number, y: number): Vector | undefined {
	const right = x - width / 2;
	const down = y - height / 2;
	if (projection === "equirectangular") {
		const [across, below] = [right / scale, down / scale];
		if (Math.abs(below) > Math.PI / 2 + 1e-9) return undefined;
		return [Math.cos(below) * Math.sin(across), Math.sin(below), Math.cos(below) * Math.cos(across)];
	}
	const lens = { projection, focalLength: scale };
	if (Math.hypot(right, down) > largestRadius(lens)) return undefined;
	const ray = rayOf(lens, right, -down);
	return [ray[0], -ray[1], ray[2]];
}

function placeOf(photo: Photo, { axes, scale }: Fit, direction: Vector): readonly [number, number] | undefined {
	const { width, height, projection } = photo;
	const [x, y, z] = rotate(axes, direction);
	if (projection === "equirectangular")
		return [width / 2 + scale * Math.atan2(x, z), height / 2 + scale * Math.asin(Math.max(-1, Math.min(1, y)))];
	const point = pointOf({ projection, focalLength: scale }, [x, -y, z]);
	return point && [width / 2 + point[0], height / 2 - point[1]];
}

/** The camera's axes turn a direction into a ray; their transpose does the reverse. */
function directionAt(photo: Photo, { axes, scale }: Fit, x: number, y: number): Vector | undefined {
	const ray = photoRay(photo, scale, x, y);
	return ray && rotate(transposed(axes), ray);
}

const transposed = ([a, b, c]: Matrix): Matrix => [
	[a[0], b[0], c[0]],
	[a[1], b[1], c[1]],
	[a[2], b[2], c[2]],
];

/** Scales that are tried where the marks have to tell, in widths of the photo a radian: fields of 150° down to 2°. */
const SCALES = Array.from({ length: 60 }, (_, i) => 0.15 * (30 / 0.15) ** (i / 59));

function bestFit(photo: Photo, marks: readonly PhotoMark[], free: boolean): BestFit | undefined {
	const fixed = photo.scale ?? photo.width / (2 * Math.PI);
	const scales = free ? SCALES.map((one) => one * photo.width) : [fixed];
	const lost = (fit: Fit): number => residualsOf(photo, marks, fit).reduce((sum, one) => sum + one * one, 0);
	const starts = scales
		.flatMap((scale) => startsAt(photo, marks, scale))
		.map((fit) => ({ fit, loss: lost(fit) }))
		.filter(({ loss }) => Number.isFinite(loss))
		.sort((a, b) => a.loss - b.loss)
		.slice(0, 6);
	// Wahba's loss is of chords: with all directions known and the scale given its solution is the answer.
	const closed = !free && marks.every(isFull);
	const fits = starts.map(({ fit }) => (closed ? fit : refined(photo, marks, fit, free)));
	const weighed = fits.map((fit) => ({ fit, loss: lost(fit), roll: Math.abs(fit.axes[0][2]) }));
	const least = Math.min(...weighed.map(({ loss }) => loss));
	// With nothing to spare two attitudes may fit: cameras are held level rather than on their side.
	const same = weighed.filter(({ loss }) => loss <= least + SAME_LOSS).sort((a, b) => a.roll - b.roll);
	const [best, ...others] = same.map(({ fit }) => fit);
	return (
		best && { ...best, rivals: others.some((one) => isUpright(one) && turnBetween(best.axes, one.axes) > WORTH_SAYING) }
	);
}

/** Nobody holds a camera upside down. */
const isUpright = ({ axes }: Fit): boolean => axes[1][2] < 0;

/** The largest turn of an axis between two attitudes, degrees. */
const turnBetween = (a: Matrix, b: Matrix): number =>
	Math.max(...[0, 1, 2].map((i) => separation(a[i] as Vector, b[i] as Vector)));

interface BestFit extends Fit {
	/** Whether another one fits as well. */
	readonly rivals: boolean;
}

/** Sums of squares, of radians, that differ by less are the same. */
const SAME_LOSS = 1e-16;

/** Attitudes to start from at a scale: Horn's with two or more known directions; a level camera with one. */
function startsAt(photo: Photo, marks: readonly PhotoMark[], scale: number): readonly Fit[] {
	const pairs = marks.filter(isFull).flatMap(({ x, y, bearing, altitude }) => {
		const ray = photoRay(photo, scale, x, y);
		return ray ? [{ ray, direction: vector(bearing, altitude) }] : [];
	});
	if (pairs.length >= 2) {
		const axes = wahba(pairs);
		return axes ? [{ axes, scale }] : [];
	}
	const [one] = pairs;
	if (!one) return [];
	// Level, turned so that the mark has its bearing, looking up or down by steps.
	return [-60, -30, 0, 30, 60].map((pitch) => {
		const seen = angles(rotate(transposed(levelAxes(0, pitch)), one.ray));
		return { axes: levelAxes(angles(one.direction).bearing - seen.bearing, pitch), scale };
	});
}

/** Axes of a level camera that looks at a bearing and an altitude. */
export function levelAxes(bearing: number, altitude: number, roll = 0): Matrix {
	const forward = vector(bearing, altitude);
	const up = vector(bearing, altitude + 90);
	const right = cross(forward, up);
	const [c, s] = [Math.cos(roll * RAD), Math.sin(roll * RAD)];
	return [plus(times(right, c), times(up, s)), plus(times(right, s), times(up, -c)), forward];
}

/** The rotation that turns directions into rays with the least sum of squared chords; undefined where they are all one. */
function wahba(pairs: readonly { readonly ray: Vector; readonly direction: Vector }[]): Matrix | undefined {
	const b = [0, 1, 2].map((i) =>
		[0, 1, 2].map((j) =>
			pairs.reduce((sum, { ray, direction }) => sum + (direction[i] as number) * (ray[j] as number), 0),
		),
	) as [number[], number[], number[]];
	const s = (i: number, j: number): number => (b[i] as number[])[j] as number;
	const n = [
		[s(0, 0) + s(1, 1) + s(2, 2), s(1, 2) - s(2, 1), s(2, 0) - s(0, 2), s(0, 1) - s(1, 0)],
		[s(1, 2) - s(2, 1), s(0, 0) - s(1, 1) - s(2, 2), s(0, 1) + s(1, 0), s(2, 0) + s(0, 2)],
		[s(2, 0) - s(0, 2), s(0, 1) + s(1, 0), s(1, 1) - s(0, 0) - s(2, 2), s(1, 2) + s(2, 1)],
		[s(0, 1) - s(1, 0), s(2, 0) + s(0, 2), s(1, 2) + s(2, 1), s(2, 2) - s(0, 0) - s(1, 1)],
	];
	const { values, vectors } = symmetricEigen(n);
	const order = [0, 1, 2, 3].sort((i, j) => (values[j] as number) - (values[i] as number));
	const [first = 0, second = 0] = order;
	// Two largest that are equal: turning about the one direction changes nothing.
	if ((values[first] as number) - (values[second] as number) < 1e-7 * pairs.length) return undefined;
	const [w = 1, x = 0, y = 0, z = 0] = vectors.map((row) => row[first] as number);
	return [
		[w * w + x * x - y * y - z * z, 2 * (x * y - w * z), 2 * (x * z + w * y)],
		[2 * (x * y + w * z), w * w - x * x + y * y - z * z, 2 * (y * z - w * x)],
		[2 * (x * z - w * y), 2 * (y * z + w * x), w * w - x * x - y * y + z * z],
	];
}

/** Eigenvalues and eigenvectors (columns) of a symmetric matrix by Jacobi's rotations. */
function symmetricEigen(matrix: readonly (readonly number[])[]) {
	const size = matrix.length;
	const a = matrix.map((row) => [...row]);
	const v = a.map((_, i) => a.map((_, j) => (i === j ? 1 : 0)));
	const get = (m: number[][], i: number, j: number): number => (m[i] as number[])[j] as number;
	const set = (m: number[][], i: number, j: number, value: number): void => {
		(m[i] as number[])[j] = value;
	};
	for (let sweep = 0; sweep < 60; sweep++) {
		let off = 0;
		for (let p = 0; p < size; p++)
			for (let q = p + 1; q < size; q++) {
				const apq = get(a, p, q);
				off += apq * apq;
				if (Math.abs(apq) < 1e-300) continue;
				const angle = Math.atan2(2 * apq, get(a, q, q) - get(a, p, p)) / 2;
				const [c, s] = [Math.cos(angle), Math.sin(angle)];
				for (let k = 0; k < size; k++) {
					const [akp, akq] = [get(a, k, p), get(a, k, q)];
					set(a, k, p, c * akp - s * akq);
					set(a, k, q, s * akp + c * akq);
				}
				for (let k = 0; k < size; k++) {
					const [apk, aqk] = [get(a, p, k), get(a, q, k)];
					set(a, p, k, c * apk - s * aqk);
					set(a, q, k, s * apk + c * aqk);
					const [vkp, vkq] = [get(v, k, p), get(v, k, q)];
					set(v, k, p, c * vkp - s * vkq);
					set(v, k, q, s * vkp + c * vkq);
				}
			}
		if (off < 1e-30) break;
	}
	return { values: a.map((row, i) => row[i] as number), vectors: v };
}

/**
 * Residuals, radians: the chord's parts for a known direction, one for a known altitude or a known bearing (as wide as
 * it is there); NaN outside the lens.
 */
function residualsOf(photo: Photo, marks: readonly PhotoMark[], fit: Fit): number[] {
	return marks.flatMap((mark) => {
		const seen = directionAt(photo, fit, mark.x, mark.y);
		if (!seen) return [Number.NaN];
		if (!isFull(mark)) return [offAlone(seen, mark) * RAD];
		const wanted = vector(mark.bearing, mark.altitude);
		return [seen[0] - wanted[0], seen[1] - wanted[1], seen[2] - wanted[2]];
	});
}

/** Degrees by which a direction misses a mark of which one number is known; nothing of one without any. */
function offAlone(seen: Vector, { bearing, altitude }: PhotoMark): number {
	const is = angles(seen);
	if (altitude !== undefined) return is.altitude - altitude;
	return bearing === undefined ? 0 : halfTurn(is.bearing - bearing) * Math.cos(is.altitude * RAD);
}

const residualAngles = (photo: Photo, marks: readonly PhotoMark[], fit: Fit): readonly number[] =>
	marks.map((mark) => {
		const seen = directionAt(photo, fit, mark.x, mark.y);
		if (!seen) return Number.NaN;
		return isFull(mark) ? separation(seen, vector(mark.bearing, mark.altitude)) : Math.abs(offAlone(seen, mark));
	});

/** The fit turned by small angles about the camera's own axes, and scaled by a factor. */
function nudged({ axes, scale }: Fit, [a = 0, b = 0, c = 0, d = 0]: readonly number[]): Fit {
	const angle = Math.hypot(a, b, c);
	const axis: Vector = angle === 0 ? [0, 0, 1] : [a / angle, b / angle, c / angle];
	const columns = transposed(axes).map((column) => turnAbout(axis, angle, column)) as unknown as Matrix;
	return { axes: transposed(columns), scale: scale * Math.exp(d) };
}

const STEP = 1e-6;
const unitStep = (index: number, size: number): number[] => [0, 1, 2, 3].map((i) => (i === index ? size : 0));

/** Derivatives of the residuals by the parameters: a row each residual. */
function jacobianOf(photo: Photo, marks: readonly PhotoMark[], fit: Fit, free: boolean): number[][] {
	const parameters = free ? 4 : 3;
	const columns = Array.from({ length: parameters }, (_, i) => {
		const more = residualsOf(photo, marks, nudged(fit, unitStep(i, STEP)));
		const less = residualsOf(photo, marks, nudged(fit, unitStep(i, -STEP)));
		return more.map((one, k) => (one - (less[k] as number)) / (2 * STEP));
	});
	return (columns[0] as number[]).map((_, row) => columns.map((column) => column[row] as number));
}

const normal = (jacobian: readonly (readonly number[])[]): number[][] => {
	const size = jacobian[0]?.length ?? 0;
	return Array.from({ length: size }, (_, i) =>
		Array.from({ length: size }, (_, j) =>
			jacobian.reduce((sum, row) => sum + (row[i] as number) * (row[j] as number), 0),
		),
	);
};

function refined(photo: Photo, marks: readonly PhotoMark[], start: Fit, free: boolean): Fit {
	let fit = start;
	let damping = 1e-3;
	const lossOf = (one: Fit): number => residualsOf(photo, marks, one).reduce((sum, r) => sum + r * r, 0);
	let loss = lossOf(fit);
	for (let i = 0; i < 200; i++) {
		const residuals = residualsOf(photo, marks, fit);
		const jacobian = jacobianOf(photo, marks, fit, free);
		const matrix = normal(jacobian);
		for (const [k, row] of matrix.entries()) row[k] = (row[k] as number) * (1 + damping) + 1e-15;
		const inverted = inverse(matrix);
		if (!inverted) return fit;
		const gradient = matrix.map((_, k) =>
			jacobian.reduce((sum, row, r) => sum + (row[k] as number) * (residuals[r] as number), 0),
		);
		const step = inverted.map((row) => -row.reduce((sum, one, k) => sum + one * (gradient[k] as number), 0));
		const next = nudged(fit, step);
		const better = lossOf(next);
		if (better <= loss) {
			const settled = Math.hypot(...step) < 1e-12;
			[fit, loss, damping] = [next, better, damping / 5];
			if (settled) return fit;
		} else damping *= 5;
		if (damping > 1e12) return fit;
	}
	return fit;
}

/** The inverse of a symmetric positive matrix by its eigenvalues; undefined where one is next to nothing. */
function inverse(matrix: readonly (readonly number[])[]): number[][] | undefined {
	if (matrix.some((row) => row.some((one) => !Number.isFinite(one)))) return undefined;
	const { values, vectors } = symmetricEigen(matrix);
	const largest = Math.max(...values);
	if (!(Math.min(...values) > largest * 1e-10)) return undefined;
	return matrix.map((_, i) =>
		matrix.map((_, j) =>
			values.reduce((sum, value, k) => sum + ((vectors[i]?.[k] ?? 0) * (vectors[j]?.[k] ?? 0)) / value, 0),
		),
	);
}

/** How far a direction moves for one unit of error at the marks: the root of the trace of its covariance. */
function errorAt(photo: Photo, fit: Fit, x: number, y: number, covariance: number[][], free: boolean): number {
	const columns = Array.from({ length: free ? 4 : 3 }, (_, i) => {
		const more = directionAt(photo, nudged(fit, unitStep(i, STEP)), x, y);
		const less = directionAt(photo, nudged(fit, unitStep(i, -STEP)), x, y);
		return [0, 1, 2].map((k) => ((more?.[k] ?? Number.NaN) - (less?.[k] ?? Number.NaN)) / (2 * STEP));
	});
	let trace = 0;
	for (const [i, a] of columns.entries())
		for (const [j, b] of columns.entries())
			for (let k = 0; k < 3; k++) trace += (a[k] as number) * (b[k] as number) * (covariance[i]?.[j] ?? 0);
	return Math.sqrt(Math.max(0, trace));
}

/** Marks may be off by that many times what a click is, and by that many degrees: known places and bearings are no better. */
const TIMES = 4;
const WORTH_SAYING = 0.3;

/** Marks that do not agree: the one without which the others do; where none can be told from the others, all of them. */
function disagreeing(
	photo: Photo,
	marks: readonly PhotoMark[],
	free: boolean,
	residuals: readonly number[],
	clicked: number,
): readonly number[] {
	const limit = Math.max(WORTH_SAYING, TIMES * clicked);
	const within = (values: readonly number[]): boolean => values.every((one) => one <= limit);
	if (within(residuals)) return [];
	const without = marks.flatMap((_, index) => {
		const rest = marks.filter((_, i) => i !== index);
		const full = rest.filter(isFull).length;
		// Without a mark to spare anything fits.
		const known = rest.reduce((sum, mark) => sum + numbersOf(mark), 0);
		if (full < 1 || rest.length < 2 || known <= (free ? 4 : 3)) return [];
		const fit = bestFit(photo, rest, free);
		return fit ? [{ index, worst: Math.max(...residualAngles(photo, rest, fit)) }] : [];
	});
	const good = without.filter(({ worst }) => worst <= limit).sort((a, b) => a.worst - b.worst);
	// Only one may be taken away: of two that would both do, neither is known to be wrong.
	if (good.length === 1) return good.map(({ index }) => index);
	return (good.length > 0 ? good.map(({ index }) => index) : marks.map((_, i) => i)).sort((a, b) => a - b);
}
