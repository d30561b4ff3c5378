/**
 * Chances of trails: for an axis error that is normally distributed about an expected one, and for a periodic error whose
 * phase nobody knows.
 */
import { KeptBy } from "../memory/memory.ts";
import { RAD } from "../sky/vector.ts";
import { type AxisVector, ellipseOf, NO_BIAS } from "./axis-error.ts";
import { lastThatHolds, slackOfChance } from "./last-that-holds.ts";
import {
	fewSwingsOf,
	HALF_OF_THE_PHASES,
	NO_SWINGS,
	overPhases,
	type Swings,
	widestSwing,
	widestSwings,
} from "./periodic-error.ts";
import {
	type AxisSpread,
	displacementsFor,
	driveTrail,
	driveTrails,
	type Trails,
	trailFor,
	trailsOf,
	worstStar,
} from "./trail.ts";

/** Directions over which the ellipse is walked. */
const WALK = 32;
/** Each line through the expected axis goes two opposite ways. */
const LINES = WALK / 2;

/** These as steps of one degree. */
const WALKED: readonly AxisVector[] = Array.from({ length: WALK }, (_, k) => {
	const beta = (2 * Math.PI * (k + 0.5)) / WALK;
	return { along: Math.cos(beta), across: Math.sin(beta) };
});

/** Walks of the spreads in use. */
const walks = new KeptBy<AxisSpread, Walk>();

/** Decisive stars of trails, by spread. */
const decisives = new KeptBy<Trails, KeptBy<AxisSpread, Trails>>();
const newBySpread = (): KeptBy<AxisSpread, Trails> => new KeptBy();

/** Where the axis is expected, degrees, and by the walk's directions one standard deviation from there. */
interface Walk {
	readonly bias: AxisVector;
	readonly steps: readonly AxisVector[];
}

function walkOf({ covariance, bias = NO_BIAS }: AxisSpread): Walk {
	const { major, minor, tilt } = ellipseOf(covariance);
	const [cos, sin] = [Math.cos(tilt * RAD), Math.sin(tilt * RAD)];
	const steps = WALKED.map(({ along, across }) => {
		const [a, b] = [major * along, minor * across];
		return { along: a * cos - b * sin, across: a * sin + b * cos };
	});
	return { bias, steps };
}

/** Trails about an expected axis: where that puts each star, pixels right and up as far as the star counts. */
interface Biased {
	readonly trails: Trails;
	readonly start: Float64Array;
	readonly bias: AxisVector;
}

// The longest trail of each way, and whose it is; filled anew by each search.
const most = new Float64Array(6);
const worst = new Uint16Array(6);

/**
 * The trails of the stars alone that can be the longest: for some directions of axis error and ways of the drive, the
 * longest one. With a periodic error each chance looks at every star hundreds of times.
 */
function decisive(trails: Trails, { bias, steps }: Walk): Trails {
	const { frame, fixed, perAlong, perAcross, perDrive, lag, swings } = trails;
	const widest = Math.max(...widestSwings(swings));
	const ways = widest > 0 ? 6 : 2;
	const chosen = new Set<number>();
	for (let k = 0; k < LINES; k += 2) {
		const far = k % 4 === 0 ? 0.8 : 2;
		const { along, across } = steps[k] as AxisVector;
		worst.fill(0);
		most.fill(-1);
		for (let i = 0; i < fixed.length; i += 2) {
			const x = (fixed[i] as number) + bias.along * (perAlong[i] as number) + bias.across * (perAcross[i] as number);
			const y =
				(fixed[i + 1] as number) +
				bias.along * (perAlong[i + 1] as number) +
				bias.across * (perAcross[i + 1] as number);
			const dx = far * (along * (perAlong[i] as number) + across * (perAcross[i] as number));
			const dy = far * (along * (perAlong[i + 1] as number) + across * (perAcross[i + 1] as number));
			const wx = widest * (perDrive[i] as number);
			const wy = widest * (perDrive[i + 1] as number);
			// Forth and back along the line, without the drive and with it either way.
			for (let way = 0; way < ways; way++) {
				const side = way % 2 === 0 ? 1 : -1;
				const drive = way < 2 ? 0 : way < 4 ? 1 : -1;
				const right = x + side * dx + drive * wx;
				const up = y + side * dy + drive * wy;
				const square = right * right + up * up;
				if (square > (most[way] as number)) {
					worst[way] = i;
					most[way] = square;
				}
			}
		}
		for (let way = 0; way < ways; way++) chosen.add(worst[way] as number);
	}
	const kept = [...chosen];
	const of = (all: Float64Array): Float64Array => {
		const few = new Float64Array(2 * kept.length);
		for (let k = 0; k < kept.length; k++) {
			const i = kept[k] as number;
			few[2 * k] = all[i] as number;
			few[2 * k + 1] = all[i + 1] as number;
		}
		return few;
	};
	return {
		frame: { ...frame, stars: kept.flatMap((i) => frame.stars[i / 2] ?? []) },
		fixed: of(fixed),
		perAlong: of(perAlong),
		perAcross: of(perAcross),
		perDrive: of(perDrive),
		lag: of(lag),
		swings,
		exposure: trails.exposure,
	};
}

function biasedBy(trails: Trails, bias: AxisVector): Biased {
	const { fixed, perAlong, perAcross } = trails;
	const { along, across } = bias;
	const start = new Float64Array(fixed.length);
	for (let i = 0; i < start.length; i++)
		start[i] = (fixed[i] as number) + along * (perAlong[i] as number) + across * (perAcross[i] as number);
	return { trails, start, bias };
}

/** A stretch of steps, forth (positive) and back; the same object is filled anew by each search. */
interface Stretch {
	from: number;
	until: number;
}

/**
 * From where to where, in steps of a standard deviation along a line through the expected axis, no trail is longer than
 * `limit`; false where that is nowhere so. Each star allows one stretch, since its trail is the distance of a point that
 * moves along a line. The second order in the axis error is taken at the places that the first order finds, where it
 * shows.
 */
function findStretch(
	into: Stretch,
	biased: Biased,
	swings: Swings,
	phase: number,
	step: AxisVector,
	limit: number,
): boolean {
	if (!findStretchWith(0, into, biased, swings, phase, step, limit)) return false;
	let { from, until } = into;
	const forth = secondAt(biased.bias, step, until);
	if (forth > 0 && findStretchWith(forth, into, biased, swings, phase, step, limit)) until = into.until;
	const back = secondAt(biased.bias, step, from);
	if (back > 0 && findStretchWith(back, into, biased, swings, phase, step, limit)) from = into.from;
	into.from = from;
	into.until = until;
	return from < until;
}

/** What the second order takes of the lag after some steps; 0 where it does not show, or says no more than the first. */
function secondAt(bias: AxisVector, step: AxisVector, steps: number): number {
	const along = bias.along + steps * step.along;
	const across = bias.across + steps * step.across;
	const error = Math.sqrt(along * along + across * across);
	return error > WITHOUT_SECOND && error < BEYOND_SECOND ? 1 - Math.cos(error * RAD) : 0;
}

/** The stretch with the second order of some axis error, `second` being 1 less its cosine. */
function findStretchWith(
	second: number,
	into: Stretch,
	{ trails: { perAlong, perAcross, perDrive, lag }, start }: Biased,
	{ starts, part: parts, drive: drives }: Swings,
	phase: number,
	{ along, across }: AxisVector,
	limit: number,
): boolean {
	let from = Number.NEGATIVE_INFINITY;
	let until = Number.POSITIVE_INFINITY;
	const square = limit * limit;
	const first = starts[phase] as number;
	const last = starts[phase + 1] as number;
	for (let i = 0; i < start.length; i += 2) {
		const x0 = (start[i] as number) + second * (lag[i] as number);
		const y0 = (start[i + 1] as number) + second * (lag[i + 1] as number);
		const vx = along * (perAlong[i] as number) + across * (perAcross[i] as number);
		const vy = along * (perAlong[i + 1] as number) + across * (perAcross[i + 1] as number);
		const v0 = vx * vx + vy * vy;
		for (let k = first; k < last; k++) {
			// |f + ρ v| = limit has two solutions, and is shorter between them.
			const part = parts[k] as number;
			const drive = drives[k] as number;
			const fx = part * x0 + drive * (perDrive[i] as number);
			const fy = part * y0 + drive * (perDrive[i + 1] as number);
			const c0 = fx * fx + fy * fy - square;
			const vv = part * part * v0;
			if (vv === 0) {
				if (c0 <= 0) continue;
				return false;
			}
			const half = part * (fx * vx + fy * vy);
			// Shorter at both ends, and so in between.
			if (c0 + (2 * half + vv * until) * until <= 0 && c0 + (2 * half + vv * from) * from <= 0) continue;
			const under = half * half - vv * c0;
			if (!(under >= 0)) return false;
			const root = Math.sqrt(under);
			from = Math.max(from, (-half - root) / vv);
			until = Math.min(until, (-half + root) / vv);
			if (!(from < until)) return false;
		}
	}
	into.from = from;
	into.until = until;
	return true;
}

/** Axis error up to which its second order does not show: e/2 of the trail, degrees. */
const WITHOUT_SECOND = 0.2;
/** Axis error beyond which two orders say no more than one, degrees. */
const BEYOND_SECOND = 15;

/**
 * Chance that no star of the frame trails by more than `limit` pixels. In whitened polar coordinates about the expected
 * axis the radius is Rayleigh-distributed: a stretch from ρ₁ to ρ₂ has the chance exp(−ρ₁²/2) − exp(−ρ₂²/2), of which the
 * mean is taken over directions and over the drive's phases. Where it is `enough` at least, it is told as far as it was
 * counted until that was sure.
 */
export const chanceWithin = (trails: Trails, spread: AxisSpread, limit: number, enough?: number): number =>
	chanceAmong(trails.swings.phases > 1 ? decisiveOf(trails, spread) : trails, spread, limit, enough);

const decisiveOf = (trails: Trails, spread: AxisSpread): Trails =>
	decisives.of(trails, newBySpread).of(spread, () => decisive(trails, walks.of(spread, walkOf)));

/** The chance with some trails' own stars, all of them. */
function chanceAmong(trails: Trails, spread: AxisSpread, limit: number, enough = 1): number {
	if (isSure(spread)) return shareWithin(trailsByPhase(trails, spread), limit);
	const { bias, steps } = walks.of(spread, walkOf);
	const { swings } = trails;
	const biased = biasedBy(trails, bias);
	const stretch: Stretch = { from: 0, until: 0 };
	// Many phases with one line each, far from those of the phases beside it.
	const every = swings.phases > 1 ? LINES : 1;
	const count = (swings.phases * LINES) / every;
	let sum = 0;
	for (let phase = 0; phase < swings.phases && sum < enough * 2 * count; phase++) {
		for (let k = (phase * STRIDE) % every; k < LINES; k += every) {
			if (!findStretch(stretch, biased, swings, phase, steps[k] as AxisVector, limit)) continue;
			const { from, until } = stretch;
			// Both ends on one side, or the ways forth and back from the expected axis.
			sum += from > 0 || until < 0 ? Math.abs(beyond(from) - beyond(until)) : 2 - beyond(from) - beyond(until);
		}
	}
	return sum / (2 * count);
}

/** Chance of being farther out than so many steps. */
const beyond = (steps: number): number => Math.exp((-steps * steps) / 2);

/** Whether the axis is where it is expected: then only the drive's phase is left to chance. */
const isSure = ({ covariance }: AxisSpread): boolean => covariance.alongAlong === 0 && covariance.acrossAcross === 0;

/** The longest trail for each of the drive's phases, the axis being where it is expected. */
function trailsByPhase(trails: Trails, { bias = NO_BIAS }: AxisSpread): readonly number[] {
	const places = displacementsFor(trails, bias);
	const { starts, part, drive, phases } = trails.swings;
	return Array.from({ length: phases }, (_, phase) => {
		let most = 0;
		for (const [i, [x, y]] of places.entries())
			for (let k = starts[phase] as number; k < (starts[phase + 1] as number); k++) {
				const right = (part[k] as number) * x + (drive[k] as number) * (trails.perDrive[2 * i] as number);
				const up = (part[k] as number) * y + (drive[k] as number) * (trails.perDrive[2 * i + 1] as number);
				most = Math.max(most, right * right + up * up);
			}
		return Math.sqrt(most);
	});
}

/** Part of the phases within a limit: between two of them the trail is taken to change evenly. */
function shareWithin(values: readonly number[], limit: number): number {
	const parts = values.map((value, i) => {
		const next = values[(i + 1) % values.length] as number;
		if (value <= limit && next <= limit) return 1;
		if (value > limit && next > limit) return 0;
		return (limit - Math.min(value, next)) / Math.abs(next - value);
	});
	return parts.reduce((sum, part) => sum + part, 0) / parts.length;
}

/** From one phase's direction to that of the next, prime to their number. */
const STRIDE = 7;

/** Directions in which it is looked whether a frame is surely sharp. */
const FEW = 8;
/** Phases for which it is looked. */
const FEW_PHASES = 16;

/**
 * Whether no star of the frame trails by more than `limit` with a chance `share` at least, or undefined where only
 * `chanceWithin` can tell. The axis errors that a frame allows are a convex area, so that it holds the circle inside the
 * octagon of what a few directions allow: its chance is 1 − exp(−ρ²/2).
 */
export function isSurelyWithin(trails: Trails, spread: AxisSpread, limit: number, share: number): true | undefined {
	const radius = Math.sqrt(-2 * Math.log(1 - share));
	if (isWellWithin(trails, spread, limit, radius)) return true;
	const { bias, steps } = walks.of(spread, walkOf);
	const biased = biasedBy(trails.swings.phases > 1 ? decisiveOf(trails, spread) : trails, bias);
	const stretch: Stretch = { from: 0, until: 0 };
	const enough = radius / Math.cos(Math.PI / FEW);
	const { swings } = trails;
	const apart = Math.max(1, swings.phases / FEW_PHASES);
	for (let phase = 0; phase < swings.phases; phase += apart)
		for (let k = 0; k < LINES; k += WALK / FEW)
			if (
				!findStretch(stretch, biased, swings, phase, steps[k] as AxisVector, limit) ||
				stretch.from > -enough ||
				stretch.until < enough
			)
				return undefined;
	return true;
}

/**
 * Whether no trail is longer than `limit` for any axis error within a radius of standard deviations, whatever the drive
 * does: each star's parts laid end to end, which takes a look at each star instead of a search. An error of that radius
 * moves a star by the radius times the root of its variance at most.
 */
function isWellWithin(
	trails: Trails,
	{ covariance, bias = NO_BIAS }: AxisSpread,
	limit: number,
	radius: number,
): boolean {
	const { fixed, perAlong, perAcross, perDrive, lag, swings } = trails;
	const { alongAlong, alongAcross, acrossAcross } = covariance;
	const widest = widestSwing(swings, 1);
	const farthest = Math.hypot(bias.along, bias.across) + radius * Math.sqrt(alongAlong + acrossAcross);
	const second = 1 - Math.cos(Math.min(180, farthest) * RAD);
	for (let i = 0; i < fixed.length; i += 2) {
		let [start, drive, late, variance] = [0, 0, 0, 0];
		for (let at = i; at < i + 2; at++) {
			const a = perAlong[at] as number;
			const c = perAcross[at] as number;
			start += ((fixed[at] as number) + bias.along * a + bias.across * c) ** 2;
			drive += (perDrive[at] as number) ** 2;
			late += (lag[at] as number) ** 2;
			variance += a * a * alongAlong + 2 * a * c * alongAcross + c * c * acrossAcross;
		}
		const most =
			Math.sqrt(start) +
			widest * Math.sqrt(drive) +
			second * Math.sqrt(late) +
			radius * Math.sqrt(Math.max(0, variance));
		if (!(most <= limit)) return false;
	}
	return true;
}

/** Chances that no star trails by more than `limit`, the least among them exact: of each other one at least what is told. */
export function chancesAbove(all: readonly Trails[], spread: AxisSpread, limit: number): readonly number[] {
	const chances = new Array<number>(all.length);
	let least = 1;
	for (const i of longestFirst(all, spread)) {
		chances[i] = chanceWithin(all[i] as Trails, spread, limit, least);
		least = Math.min(least, chances[i] as number);
	}
	return chances;
}

/** Places in a list, those first whose longest trail is longest in the root mean square. */
function longestFirst(all: readonly Trails[], spread: AxisSpread): readonly number[] {
	const lengths = all.map((one) => worstStar(one, spread).whole);
	return lengths.map((_, i) => i).sort((a, b) => (lengths[b] as number) - (lengths[a] as number));
}

/** The greatest of the trails of several frames that are not passed with a chance `share`, pixels, to 0.1 %. */
export function greatestQuantile(all: readonly Trails[], spread: AxisSpread, share: number): number {
	let most = 0;
	for (const i of longestFirst(all, spread)) {
		const one = all[i] as Trails;
		if (most === 0 || !isQuantileWithin(one, spread, share, most))
			most = Math.max(most, trailQuantile(one, spread, share));
	}
	return most;
}

/** Whether the trail that is not passed with a chance is surely no longer than a limit. */
const isQuantileWithin = (trails: Trails, spread: AxisSpread, share: number, limit: number): boolean =>
	isSure(spread)
		? trailFor(trails, spread.bias ?? NO_BIAS) + driveTrail(trails, share) <= limit
		: chanceWithin(trails, spread, limit, share) >= share;

/** Trail that is not passed with a chance `share`, pixels, to 0.1 %. */
export function trailQuantile(trails: Trails, spread: AxisSpread, share: number): number {
	if (isSure(spread)) return overPhases(trailsByPhase(trails, spread), share);
	const still = trailFor(trails, spread.bias ?? NO_BIAS) + Math.max(...driveTrails(trails));
	// The larger the limit, the more holds: what is sought is the last of its inverse.
	const most = lastThatHolds(
		(inverse) => slackOfChance(chanceWithin(trails, spread, 1 / inverse), share),
		1 / Math.max(1e-3, still),
		1e-7,
		1e7,
	);
	return most === 0 ? Number.POSITIVE_INFINITY : 1 / most;
}

/**
 * Chance that no star of the frame trails by more than `limit` pixels over other exposures than that of the trails: what
 * rate, refraction and axis do is taken in proportion, and only the decisive stars are looked at. It tells where to look.
 */
export function chancesNear(trails: Trails, spread: AxisSpread, limit: number): (exposure: number) => number {
	const few = decisiveOf(trails, spread);
	const { periodicError } = trails.frame.shot;
	return (exposure) => {
		const part = exposure / trails.exposure;
		if (trails.swings === NO_SWINGS) return chanceAmong(few, spread, limit / part);
		// Instead of all else the drive and the limit are taken in proportion.
		const swings = periodicError ? fewSwingsOf(periodicError, exposure) : NO_SWINGS;
		return chanceAmong({ ...few, perDrive: few.perDrive.map((one) => one / part), swings }, spread, limit / part);
	};
}

/** The same, exactly, of the stars that are decisive in these trails: the longest ones over other exposures too, if not much shorter. */
export const chancesAmongFew = (
	near: Trails,
	spread: AxisSpread,
	limit: number,
	enough?: number,
): ((exposure: number) => number) => {
	const { frame } = decisiveOf(near, spread);
	return (exposure) => chanceAmong(trailsOf(frame, exposure, HALF_OF_THE_PHASES), spread, limit, enough);
};

/**
 * Axis error, in the worst direction, at which a trail reaches `limit` pixels without the drive's, degrees; negative when
 * it is longer without any: then it is not the axis that limits the frame.
 */
export function axisErrorAllowed(trails: Trails, limit: number): number {
	if (trailFor(trails, NO_BIAS) > limit) return -1;
	const biased = biasedBy(trails, NO_BIAS);
	const stretch: Stretch = { from: 0, until: 0 };
	let least = Number.POSITIVE_INFINITY;
	for (let k = 0; k < LINES; k++)
		if (findStretch(stretch, biased, NO_SWINGS, 0, WALKED[k] as AxisVector, limit))
			least = Math.min(least, stretch.until, -stretch.from);
	return least;
}
