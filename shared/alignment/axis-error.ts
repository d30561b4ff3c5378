/**
 * The axis error: the angle on the sky between the tracker's axis and the pole, as a vector in the plane that touches
 * the sky at the elevated pole. `along` is along the meridian, positive when the axis is too high; `across` is across
 * it, positive when the axis is clockwise of the pole as seen from above (azimuth too great), measured on the sky
 * (azimuth error times cos φ). Degrees, in both hemispheres.
 */
import { Kept } from "../memory/memory.ts";
import { toVector } from "../sky/horizontal.ts";
import { plus, RAD, times, unit, type Vector } from "../sky/vector.ts";

export interface AxisVector {
	readonly along: number;
	readonly across: number;
}

/** Covariance of an axis error, degrees squared. */
export interface Covariance {
	readonly alongAlong: number;
	readonly alongAcross: number;
	readonly acrossAcross: number;
}

/** The 1-sigma ellipse of a covariance. */
export interface Ellipse {
	/** Half axes, degrees, `major` ≥ `minor`. */
	readonly major: number;
	readonly minor: number;
	/** Direction of the major half axis: degrees from `along` towards `across`, −90 … 90. */
	readonly tilt: number;
}

export const NO_SPREAD: Covariance = { alongAlong: 0, alongAcross: 0, acrossAcross: 0 };

/** The covariance with an independent error's added. */
export function addSpread(covariance: Covariance, { along, across }: AxisVector): Covariance {
	return {
		alongAlong: covariance.alongAlong + along * along,
		alongAcross: covariance.alongAcross + along * across,
		acrossAcross: covariance.acrossAcross + across * across,
	};
}

/** The 1-sigma ellipse of a covariance: half axes in degrees, `tilt` from the meridian toward across, degrees. */
export function ellipseOf({ alongAlong, alongAcross, acrossAcross }: Covariance): Ellipse {
	const mean = (alongAlong + acrossAcross) / 2;
	const spread = Math.hypot((alongAlong - acrossAcross) / 2, alongAcross);
	const tilt = spread === 0 ? 0 : Math.atan2(alongAcross, (alongAlong - acrossAcross) / 2) / 2 / RAD;
	return { major: Math.sqrt(mean + spread), minor: Math.sqrt(Math.max(0, mean - spread)), tilt };
}

/**
 * The radius within which the axis error lies with a chance `share` (0 … 1): the circle about the pole that holds that
 * share of a two-dimensional normal distribution. For a round spread it is σ √(−2 ln(1 − share)), for a flat one the
 * one-dimensional quantile, which is less; between them it is found by false position.
 */
export function radiusHolding(share: number, covariance: Covariance): number {
	const { major, minor } = ellipseOf(covariance);
	if (major === 0) return 0;
	if (share !== 0.95) return major * solvedRadius(share, minor / major);
	// The 95 % radius of every method of every plan: a smooth function of the ellipse's shape, so a table of it serves.
	const position = (minor / major) * TABLE_STEPS;
	const index = Math.min(TABLE_STEPS - 1, Math.floor(position));
	const [low, high] = [tabled(index), tabled(index + 1)];
	return major * (low + (high - low) * (position - index));
}

/** Steps of the table over minor / major = 0 … 1; linear between them is within 2e-5 of the solution (tested). */
const TABLE_STEPS = 128;
const table = new Kept<number, number>(TABLE_STEPS + 1);

const tabled = (index: number): number => table.of(index, solvedAt);
const solvedAt = (index: number): number => solvedRadius(0.95, index / TABLE_STEPS);

/** The radius for spreads 1 and `minor` ≤ 1. */
function solvedRadius(share: number, minor: number): number {
	let high = Math.sqrt(-2 * Math.log(1 - share));
	let highExcess = shareWithin(high, 1, minor) - share;
	if (highExcess <= 1e-9) return high;
	let low = 0;
	let lowExcess = -share;
	for (let i = 0; i < 40 && high - low > 1e-7; i++) {
		const middle = i % 4 === 3 ? (low + high) / 2 : low + ((high - low) * lowExcess) / (lowExcess - highExcess);
		const excess = shareWithin(middle, 1, minor) - share;
		if (Math.abs(excess) < 1e-8) return middle;
		if (excess < 0) [low, lowExcess, highExcess] = [middle, excess, highExcess / 2];
		else [high, highExcess, lowExcess] = [middle, excess, lowExcess / 2];
	}
	return (low + high) / 2;
}

/** Share of a normal distribution with spreads `a` ≥ `b` about zero that lies within a radius: Simpson's rule over the a-axis. */
function shareWithin(radius: number, a: number, b: number): number {
	const steps = 48;
	let sum = 0;
	for (let i = 0; i <= steps; i++) {
		// x = R sin t makes the half circle's edge smooth.
		const t = ((i / steps) * Math.PI) / 2;
		const x = radius * Math.sin(t);
		const half = radius * Math.cos(t);
		const inside = b < 1e-6 * a ? (half > 0 ? 1 : 0) : errorFunction(half / (b * Math.SQRT2));
		sum += Math.exp((-x * x) / (2 * a * a)) * inside * half * (i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2);
	}
	return (2 * sum * (Math.PI / 2 / steps)) / 3 / (a * Math.sqrt(2 * Math.PI));
}

/** erf for x ≥ 0, within 1.2e-7 (W. J. Cody's rational form as in Numerical Recipes, erfc Chebyshev fit). */
function errorFunction(x: number): number {
	const t = 1 / (1 + x / 2);
	const fit = [
		-1.26551223, 1.00002368, 0.37409196, 0.09678418, -0.18628806, 0.27886807, -1.13520398, 1.48851587, -0.82215223,
		0.17087277,
	];
	let exponent = 0;
	for (let i = fit.length - 1; i >= 0; i--) exponent = exponent * t + (fit[i] as number);
	return 1 - t * Math.exp(-x * x + exponent);
}

/** Direction of the elevated pole at a latitude: bearing 0° in the north, 180° in the south. */
export const poleBearing = (latitude: number): 0 | 180 => (latitude >= 0 ? 0 : 180);

/** +1 in the northern hemisphere, −1 in the southern. */
export const hemisphere = (latitude: number): 1 | -1 => (latitude >= 0 ? 1 : -1);

/** Unit vector (east, north, up) of an axis that is off the pole by an error; exact on the sphere. */
export function axisVector(latitude: number, { along, across }: AxisVector): Vector {
	const bearing = poleBearing(latitude);
	const pole = toVector({ azimuth: bearing, altitude: Math.abs(latitude) });
	const size = Math.hypot(along, across) * RAD;
	if (size === 0) return pole;
	const up = toVector({ azimuth: bearing, altitude: Math.abs(latitude) + 90 });
	const clockwise: Vector = [Math.cos(bearing * RAD), -Math.sin(bearing * RAD), 0];
	const direction = unit(plus(times(up, along), times(clockwise, across)));
	return plus(times(pole, Math.cos(size)), times(direction, Math.sin(size)));
}
