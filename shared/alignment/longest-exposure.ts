/** How long a frame may be exposed before its stars trail. */
import { NO_BIAS } from "./axis-error.ts";
import type { Frame } from "./frame-stars.ts";
import { lastThatHolds, slackOfChance, slackOfLength } from "./last-that-holds.ts";
import { type AxisSpread, ON_POLE, type Trails, trailFor, trailsOf } from "./trail.ts";
import { chancesNear, chanceWithin } from "./trail-chance.ts";

/** Chance a limit is wanted for when the plan does not say. */
export const WANTED_CHANCE = 0.9;
const LONGEST_EXPOSURE = 4 * 3600;
/** An exposure shorter than this is none, seconds. */
const SHORTEST_EXPOSURE = 0.005;
/** A guess is taken this much shorter, so that it holds more often than not. */
const SHORTER = 1 - 4e-4;

/**
 * Longest exposure at which trails stay within `limit` pixels with a chance `share`, seconds, at most 4 h. `near` are the
 * frame's trails over another exposure, where they are known: what stars do grows nearly in proportion to it, and tells
 * where to look.
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
	return longest(
		(exposure) => slackOfChance(chanceWithin(trailsOf(frame, exposure), spread, limit), share),
		guess * SHORTER,
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
		? longestExposure(frame, ON_POLE, limit, share)
		: longestStill(frame, limit);

function longestStill(frame: Frame, limit: number): number {
	const slackAt = (exposure: number): number => slackOfLength(trailFor(trailsOf(frame, exposure), NO_BIAS), limit);
	return longest(slackAt, 10 * Math.exp(slackAt(10)) * SHORTER);
}

const longest = (slackAt: (exposure: number) => number, guess: number): number =>
	lastThatHolds(slackAt, guess, SHORTEST_EXPOSURE, LONGEST_EXPOSURE);
