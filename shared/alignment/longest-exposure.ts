/** How long a frame may be exposed before its stars trail. */
import type { Frame } from "./frame-stars.ts";
import { type AxisSpread, type Trails, trailFor, trailsOf } from "./trail.ts";
import { chanceWithin, trailQuantile } from "./trail-chance.ts";

/** Chance a limit is wanted for when the plan does not say. */
export const WANTED_CHANCE = 0.9;
const LONGEST_EXPOSURE = 4 * 3600;

const NO_SPREAD: AxisSpread = { covariance: { alongAlong: 0, alongAcross: 0, acrossAcross: 0 } };

/** Longest exposure at which trails stay within `limit` pixels with a chance `share`, seconds, at most 4 h. */
export function longestExposure(
	frame: Frame,
	spread: AxisSpread,
	limit: number,
	share: number = WANTED_CHANCE,
): number {
	const at = 60;
	// Trails grow nearly in proportion to the exposure, so that one frame tells where to look.
	const still = { ...frame, shot: { ...frame.shot, periodicError: undefined } };
	const trail = trailQuantile(trailsOf(still, at), spread, share, 0.01);
	return longest(
		(exposure) => chanceWithin(trailsOf(frame, exposure), spread, limit) >= share,
		trail > 0 ? (at * limit) / trail : LONGEST_EXPOSURE,
	);
}

/** Longest untracked exposure at which no star of the frame moves by more than `limit` pixels, seconds. */
export const longestUntracked = (frame: Frame, limit: number): number =>
	longestStill({ ...frame, shot: { ...frame.shot, rate: 0, periodicError: undefined } }, limit);

/**
 * Longest exposure that holds with the axis on the pole, with a chance `share` where the drive has a periodic error,
 * seconds.
 */
export const longestOnPole = (frame: Frame, limit: number, share: number = WANTED_CHANCE): number =>
	frame.shot.periodicError && frame.shot.rate !== 0
		? longestExposure(frame, NO_SPREAD, limit, share)
		: longestStill(frame, limit);

function longestStill(frame: Frame, limit: number): number {
	const at = 10;
	const trailAt = (trails: Trails): number => trailFor(trails, { along: 0, across: 0 });
	const trail = trailAt(trailsOf(frame, at));
	return longest(
		(exposure) => trailAt(trailsOf(frame, exposure)) <= limit,
		trail > 0 && trail < Number.POSITIVE_INFINITY ? (at * limit) / trail : LONGEST_EXPOSURE,
	);
}

/** The last exposure that holds, near a guess: to 0.1 % or a tenth of a second. */
function longest(holds: (exposure: number) => boolean, guess: number): number {
	let low = Math.min(Math.max(guess, 0.01), LONGEST_EXPOSURE) * 0.97;
	let high = Math.min(low / 0.94, LONGEST_EXPOSURE);
	for (let i = 0; i < 40 && !holds(low); i++) {
		high = low;
		low /= i < 2 ? 1.15 : 2;
		if (low < 0.005) return 0;
	}
	for (let i = 0; i < 40 && holds(high); i++) {
		low = high;
		if (high >= LONGEST_EXPOSURE) return LONGEST_EXPOSURE;
		high = Math.min(high * (i < 2 ? 1.15 : 2), LONGEST_EXPOSURE);
	}
	while (high - low > Math.max(0.001 * low, 0.002)) {
		const middle = (low + high) / 2;
		if (holds(middle)) low = middle;
		else high = middle;
	}
	return low;
}
