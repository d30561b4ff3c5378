/** How long a frame may be exposed before its stars trail. */
import { NO_BIAS } from "./axis-error.ts";
import type { Frame } from "./frame-stars.ts";
import { lastThatHolds, slackOfChance, slackOfLength, WITHIN } from "./last-that-holds.ts";
import { type AxisSpread, ON_POLE, type Trails, trailFor, trailsOf } from "./trail.ts";
import { chancesAmongFew, chancesNear, chanceWithin } from "./trail-chance.ts";

/** Chance a limit is wanted for when the plan does not say. */
export const WANTED_CHANCE = 0.9;
const ABOUT_WANTED = WANTED_CHANCE - 0.001;
const LONGEST_EXPOSURE = 4 * 3600;
/** An exposure shorter than this is none, seconds. */
const SHORTEST_EXPOSURE = 0.005;
/**
 * Over a part of the exposure down to this, and over longer ones, the stars with the longest trails are the same: over
 * a tenth of it the chance would be off by 0.002 at worst, of 772 frames of 14 to 135 mm.
 */
const SAME_STARS = 0.5;
/** So near a guess the slack is a straight line. */
const CLOSE = 0.02;
/** A guess is taken this much shorter, so that it holds more often than not. */
const SHORTER = 1 - 4e-4;

/**
 * Longest exposure at which trails stay within `limit` pixels with a chance `share`, seconds, to 0.8 % at worst (half of
 * 400 to 0.03 %), at most 4 h. `near` are the frame's trails over another exposure, where they are known: what stars do
 * grows nearly in proportion to it, and tells where to look.
 */
export function longestExposure(
	frame: Frame,
	spread: AxisSpread,
	limit: number,
	share: number = WANTED_CHANCE,
	near: Trails = trailsOf(frame, 60),
): number {
	const chanceNear = chancesNear(near, spread, limit);
	const guess = longest((exposure) => slackOfChance(chanceNear(exposure), share), near.exposure);
	/** How fast the slack falls with the logarithm of the exposure. */
	const fallAt = (exposure: number): number => {
		const [shorter, longer] = [exposure * (1 - CLOSE), exposure * (1 + CLOSE)];
		const fall = slackOfChance(chanceNear(shorter), share) - slackOfChance(chanceNear(longer), share);
		return Math.max(0.3, fall / Math.log(longer / shorter));
	};
	const chanceAmongFew = chancesAmongFew(near, spread, limit);
	const slackAt = (exposure: number): number => slackOfChance(chanceAmongFew(exposure), share);
	const isBetween = guess > SHORTEST_EXPOSURE && guess * (1 + CLOSE) < LONGEST_EXPOSURE;
	const slack = isBetween ? slackAt(guess) : Number.NaN;
	const found =
		Math.abs(slack) < CLOSE ? guess * Math.exp(slack / fallAt(guess) - WITHIN / 2) : longest(slackAt, guess * SHORTER);
	if (found > near.exposure * SAME_STARS) return found;
	return longest((exposure) => slackOfChance(chanceWithin(trailsOf(frame, exposure), spread, limit), share), found);
}

/** Whether an exposure holds; `near` as above. */
export const holdsFor = (near: Trails, spread: AxisSpread, limit: number, exposure: number): boolean =>
	(exposure > near.exposure * SAME_STARS
		? chancesAmongFew(near, spread, limit, ABOUT_WANTED)(exposure)
		: chanceWithin(trailsOf(near.frame, exposure), spread, limit, ABOUT_WANTED)) >= ABOUT_WANTED;

/** Longest untracked exposure at which no star of the frame moves by more than `limit` pixels, seconds. */
export const longestUntracked = (frame: Frame, limit: number): number =>
	longestStill({ ...frame, shot: { ...frame.shot, rate: 0, periodicError: undefined } }, limit);

/**
 * Longest exposure that holds with the axis on the pole, with a chance `share` where the drive has a periodic error,
 * seconds.
 */
export const longestOnPole = (frame: Frame, limit: number, share: number = WANTED_CHANCE): number =>
	frame.shot.periodicError && frame.shot.rate !== 0
		? longestExposure(frame, ON_POLE, limit, share)
		: longestStill(frame, limit);

function longestStill(frame: Frame, limit: number): number {
	const slackAt = (exposure: number): number => slackOfLength(trailFor(trailsOf(frame, exposure), NO_BIAS), limit);
	return longest(slackAt, 10 * Math.exp(slackAt(10)) * SHORTER);
}

const longest = (slackAt: (exposure: number) => number, guess: number): number =>
	lastThatHolds(slackAt, guess, SHORTEST_EXPOSURE, LONGEST_EXPOSURE);
