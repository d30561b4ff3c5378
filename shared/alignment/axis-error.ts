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

/** An axis expected on the pole. */
export const NO_BIAS: AxisVector = { along: 0, across: 0 };

/** An axis that cannot be off. */
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
 * share of a two-dimensional normal distribution about `bias`. About the pole itself it is σ √(−2 ln(1 − share)) for a
 * round spread, the one-dimensional quantile, which is less, for a flat one, and found by false position between them;
 * off the pole it is found by false position from `shareWithinCircle`.
 */
export function radiusHolding(share: number, covariance: Covariance, bias: AxisVector = NO_BIAS): number {
	const { major, minor } = ellipseOf(covariance);
	const offset = Math.hypot(bias.along, bias.across);
	if (major === 0) return offset;
	// So small an offset is less than the table's own error.
	if (offset > 1e-3 * major) {
		const chance = (radius: number): number => shareWithinCircle(radius, covariance, bias);
		if (offset < 0.1 * major) {
			// One step from the radius about the pole: what is left is of the fourth order in so small an offset.
			const near = aboutThePole(share, major, minor);
			const at = chance(near);
			const slope = (chance(near * 1.001) - at) / (near * 0.001);
			return near + (share - at) / slope;
		}
		const guess = share === 0.95 ? guessed95(covariance, bias) : offset + major;
		// A bracket about the guess, a few per cent wide as a rule.
		let [low, high] = [0.98 * guess, 1.02 * guess];
		while (chance(low) > share) [low, high] = [0.9 * low, low];
		while (chance(high) < share) [low, high] = [high, 1.1 * high];
		return solve(share, low, high, chance, 1e-6);
	}
	return aboutThePole(share, major, minor);
}

/** The radius without a bias. */
function aboutThePole(share: number, major: number, minor: number): number {
	if (share !== 0.95) return major * solvedRadius(share, minor / major);
	// The 95 % radius of every method of every plan: a smooth function of the ellipse's shape, so a table of it serves.
	const position = (minor / major) * TABLE_STEPS;
	const index = Math.min(TABLE_STEPS - 1, Math.floor(position));
	const [low, high] = [tabled(index), tabled(index + 1)];
	return major * (low + (high - low) * (position - index));
}

/**
 * The 95 % radius to a few per cent: the square of the distance has the mean m = tr Σ + |β|² and the variance
 * v = 2 tr Σ² + 4 βᵀΣβ, and its cube root is nearly normal (F. E. Grubbs, *Operations Research* 12 (1964), from memory).
 */
function guessed95({ alongAlong, alongAcross, acrossAcross }: Covariance, { along, across }: AxisVector): number {
	const m = alongAlong + acrossAcross + along * along + across * across;
	const v =
		2 * (alongAlong ** 2 + 2 * alongAcross ** 2 + acrossAcross ** 2) +
		4 * (along * along * alongAlong + 2 * along * across * alongAcross + across * across * acrossAcross);
	const w = v / (9 * m * m);
	return Math.sqrt(m * (1.645 * Math.sqrt(w) + 1 - w) ** 3);
}

/**
 * The chance that an axis error lies within a radius of the pole, for a normal distribution about `bias`.
 *
 * In the ellipse's own axes, with u, v the bias's parts along the minor half axis b and the major a,
 *
 *     P(R) = ∫ φ((y − u)/b)/b · [Φ((x(y) − v)/a) − Φ((−x(y) − v)/a)] dy,   x(y) = √(R² − y²), |y| ≤ R.
 *
 * With y = R sin t the square root is smooth at the circle's edge; only |y − u| < 6.5 b counts. Gauss–Legendre in
 * panels, narrow beside the steepest of the factors.
 */
export function shareWithinCircle(radius: number, covariance: Covariance, bias: AxisVector): number {
	const { major, minor, tilt } = ellipseOf(covariance);
	const [sin, cos] = [Math.sin(tilt * RAD), Math.cos(tilt * RAD)];
	const v = bias.along * cos + bias.across * sin;
	const u = bias.across * cos - bias.along * sin;
	const across = (y: number): number => {
		const x = Math.sqrt(Math.max(0, radius * radius - y * y));
		return normalShare((x - v) / major) - normalShare((-x - v) / major);
	};
	if (minor < 1e-6 * major) return Math.abs(u) >= radius ? 0 : across(u);
	const low = Math.max(-1, (u - 6.5 * minor) / radius);
	const high = Math.min(1, (u + 6.5 * minor) / radius);
	if (low >= high) return 0;
	const [from, until] = [Math.asin(low), Math.asin(high)];
	const steepest = Math.min(2 * major, 2.5 * minor) / radius;
	const panels = Math.max(2, Math.min(40, Math.ceil((until - from) / steepest)));
	const half = (until - from) / panels / 2;
	let sum = 0;
	for (let panel = 0; panel < panels; panel++) {
		const middle = from + (2 * panel + 1) * half;
		for (const [node, weight] of GAUSS_LEGENDRE) {
			for (const t of [middle - half * node, middle + half * node]) {
				const y = radius * Math.sin(t);
				const z = (y - u) / minor;
				sum += weight * Math.exp((-z * z) / 2) * across(y) * Math.cos(t);
			}
		}
	}
	return (sum * half * radius) / (minor * Math.sqrt(2 * Math.PI));
}

/** Nodes and weights of the Gauss–Legendre rule of eight points on −1 … 1 (Abramowitz & Stegun, table 25.4). */
const GAUSS_LEGENDRE = [
	[0.1834346424956498, 0.362683783378362],
	[0.525532409916329, 0.3137066458778873],
	[0.7966664774136267, 0.2223810344533745],
	[0.9602898564975363, 0.1012285362903763],
] as const;

/** Share of a normal distribution below z standard deviations. */
const normalShare = (z: number): number => {
	const half = errorFunction(Math.abs(z) * Math.SQRT1_2) / 2;
	return z < 0 ? 0.5 - half : 0.5 + half;
};

/** Steps of the table over minor / major = 0 … 1; linear between them is within 2e-5 of the solution (tested). */
const TABLE_STEPS = 128;
const table = new Kept<number, number>(TABLE_STEPS + 1);

const tabled = (index: number): number => table.of(index, solvedAt);
const solvedAt = (index: number): number => solvedRadius(0.95, index / TABLE_STEPS);

/** The radius for spreads 1 and `minor` ≤ 1. */
const solvedRadius = (share: number, minor: number): number =>
	solve(share, 0, Math.sqrt(-2 * Math.log(1 - share)), (radius) => shareWithin(radius, 1, minor));

/** The radius between two others at which a growing chance reaches `share`: false position, halved now and then. */
function solve(share: number, from: number, until: number, chance: (radius: number) => number, close = 1e-8): number {
	let [low, high] = [from, until];
	let lowExcess = chance(low) - share;
	let highExcess = chance(high) - share;
	if (highExcess <= 1e-9) return high;
	const finest = 1e-7 * high;
	for (let i = 0; i < 60 && high - low > finest; i++) {
		const middle = i % 4 === 3 ? (low + high) / 2 : low + ((high - low) * lowExcess) / (lowExcess - highExcess);
		const excess = chance(middle) - share;
		if (Math.abs(excess) < close) return middle;
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

const ERFC_FIT = [
	-1.26551223, 1.00002368, 0.37409196, 0.09678418, -0.18628806, 0.27886807, -1.13520398, 1.48851587, -0.82215223,
	0.17087277,
] as const;

/** erf for x ≥ 0, within 1.2e-7 (W. J. Cody's rational form as in Numerical Recipes, erfc Chebyshev fit). */
function errorFunction(x: number): number {
	const t = 1 / (1 + x / 2);
	let exponent = 0;
	for (let i = ERFC_FIT.length - 1; i >= 0; i--) exponent = exponent * t + (ERFC_FIT[i] as number);
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
