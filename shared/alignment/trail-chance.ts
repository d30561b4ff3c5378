/**
 * Chances of trails: for an axis error that is normally distributed about an expected one, and for a periodic error whose
 * phase nobody knows.
 */
import { KeptBy } from "../memory/memory.ts";
import { RAD } from "../sky/vector.ts";
import { type AxisVector, ellipseOf } from "./axis-error.ts";
import type { Swing } from "./periodic-error.ts";
import { type AxisSpread, driveTrails, type Trails, trailFor } from "./trail.ts";

/** Directions over which the ellipse is walked. */
const WALK = 32;

const WALKED: readonly (readonly [cos: number, sin: number])[] = Array.from({ length: WALK }, (_, k) => {
	const beta = (2 * Math.PI * (k + 0.5)) / WALK;
	return [Math.cos(beta), Math.sin(beta)];
});

/** Walks of the spreads in use. */
const walks = new KeptBy<AxisSpread, Walk>();

/** Where the axis is expected, degrees, and by the walk's directions one standard deviation from there. */
interface Walk {
	readonly bias: AxisVector;
	readonly steps: readonly AxisVector[];
}

function walkOf({ covariance, bias = { along: 0, across: 0 } }: AxisSpread): Walk {
	const { major, minor, tilt } = ellipseOf(covariance);
	const [cos, sin] = [Math.cos(tilt * RAD), Math.sin(tilt * RAD)];
	const steps = WALKED.map(([cosBeta, sinBeta]) => {
		const [a, b] = [major * cosBeta, minor * sinBeta];
		return { along: a * cos - b * sin, across: a * sin + b * cos };
	});
	return { bias, steps };
}

/**
 * From where to where, in steps of a standard deviation away from the expected axis in a direction, no trail is longer
 * than `limit`; an empty stretch where that is nowhere so. Each star allows one stretch, since its trail is the distance
 * of a point that moves along a line. The second order in the axis error is taken at the place that the first order
 * finds, where it shows.
 */
function stretchIn(
	trails: Trails,
	swung: readonly Swing[],
	bias: AxisVector,
	step: AxisVector,
	limit: number,
): readonly [from: number, until: number] {
	const first = stretchWith(0, trails, swung, bias, step, limit);
	const error = Math.hypot(bias.along + first[1] * step.along, bias.across + first[1] * step.across);
	if (!(error > WITHOUT_SECOND && error < BEYOND_SECOND)) return first;
	const second = stretchWith(1 - Math.cos(error * RAD), trails, swung, bias, step, limit);
	return second === NOWHERE ? first : [first[0], second[1]];
}

/** The stretch with the second order of some axis error, `second` being 1 less its cosine. */
function stretchWith(
	second: number,
	{ fixed, perAlong, perAcross, perDrive, lag }: Trails,
	swung: readonly Swing[],
	bias: AxisVector,
	{ along, across }: AxisVector,
	limit: number,
): readonly [from: number, until: number] {
	let [from, until] = [0, Number.POSITIVE_INFINITY];
	/** Where the expected axis puts the star, and how it moves with a step: right for 0, up for 1. */
	const start = (i: number): number =>
		(fixed[i] as number) +
		bias.along * (perAlong[i] as number) +
		bias.across * (perAcross[i] as number) +
		second * (lag[i] as number);
	const pace = (i: number): number => along * (perAlong[i] as number) + across * (perAcross[i] as number);
	for (let i = 0; i < fixed.length; i += 2) {
		const [x0, y0, vx, vy] = [start(i), start(i + 1), pace(i), pace(i + 1)];
		for (const { part, drive } of swung) {
			// |f + ρ v| = limit has two solutions, and is shorter between them.
			const fx = part * x0 + drive * (perDrive[i] as number);
			const fy = part * y0 + drive * (perDrive[i + 1] as number);
			const c0 = fx * fx + fy * fy - limit * limit;
			const vv = part * part * (vx * vx + vy * vy);
			if (vv === 0) {
				if (c0 <= 0) continue;
				return NOWHERE;
			}
			const half = part * (fx * vx + fy * vy);
			const square = half * half - vv * c0;
			if (!(square >= 0)) return NOWHERE;
			const root = Math.sqrt(square);
			from = Math.max(from, (-half - root) / vv);
			until = Math.min(until, (-half + root) / vv);
			if (!(from < until)) return NOWHERE;
		}
	}
	return [from, until];
}

const NOWHERE = [0, 0] as const;

/** Axis error up to which its second order does not show: e/2 of the trail, degrees. */
const WITHOUT_SECOND = 0.2;
/** Axis error beyond which two orders say no more than one, degrees. */
const BEYOND_SECOND = 15;

/**
 * Chance that no star of the frame trails by more than `limit` pixels. In whitened polar coordinates about the expected
 * axis the radius is Rayleigh-distributed: a stretch from ρ₁ to ρ₂ has the chance exp(−ρ₁²/2) − exp(−ρ₂²/2), of which the
 * mean is taken over directions and over the drive's phases.
 */
export function chanceWithin(trails: Trails, spread: AxisSpread, limit: number): number {
	const { bias, steps } = walks.of(spread, walkOf);
	const { swings } = trails;
	// Phases smooth what few directions leave: each phase takes every fourth, turned on from the one before.
	const every = swings.length > 1 ? 4 : 1;
	let sum = 0;
	let count = 0;
	for (const [phase, swung] of swings.entries()) {
		for (let k = phase % every; k < WALK; k += every) {
			const [from, until] = stretchIn(trails, swung, bias, steps[k] as AxisVector, limit);
			sum += Math.exp((-from * from) / 2) - Math.exp((-until * until) / 2);
			count++;
		}
	}
	return sum / count;
}

/** Trail that is not passed with a chance `share`, pixels, to a part `within` of it. */
export function trailQuantile(trails: Trails, spread: AxisSpread, share: number, within = 1e-4): number {
	const still = trailFor(trails, spread.bias ?? { along: 0, across: 0 }) + (driveTrails(trails).at(-1) ?? 0);
	let [low, high] = [0, Math.max(1, still * 2)];
	while (chanceWithin(trails, spread, high) < share && high < 1e7) high *= 2;
	for (let i = 0; i < 40 && high - low > within * high; i++) {
		const middle = (low + high) / 2;
		if (chanceWithin(trails, spread, middle) < share) low = middle;
		else high = middle;
	}
	return (low + high) / 2;
}

/**
 * Axis error, in the worst direction, at which a trail reaches `limit` pixels without the drive's, degrees; negative when
 * it is longer without any: then it is not the axis that limits the frame.
 */
export function axisErrorAllowed(trails: Trails, limit: number): number {
	if (trailFor(trails, ON_POLE) > limit) return -1;
	return Math.min(...WALKED.map(([along, across]) => stretchIn(trails, STILL, ON_POLE, { along, across }, limit)[1]));
}

const ON_POLE: AxisVector = { along: 0, across: 0 };
const STILL: readonly Swing[] = [{ part: 1, drive: 0 }];
