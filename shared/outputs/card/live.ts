/**
 * What is on at a moment of the evening, as the card shows it live: a pure function of the steps and the clock, which
 * runs in the page's script too.
 */

/** A step with its times, epoch milliseconds. */
export interface TimedStep {
	readonly at: number;
	readonly until: number;
	/** Nothing is done in it: it is never what is next. */
	readonly waits?: boolean;
}

/** Places in the list of steps; undefined where there is none. */
export interface CardMoment {
	readonly now: number | undefined;
	readonly next: number | undefined;
	/** Whole minutes until the next step begins, the minute begun counted in full. */
	readonly minutes: number | undefined;
}

/** Longer before the first step than this it is not the evening yet: nothing is counted down. */
const EVENING_MS = 12 * 3_600_000;

/** The step last begun of those that are not over, and the first that is yet to begin and is not a wait; `steps` by their beginning. */
export function momentOf(steps: readonly TimedStep[], at: number): CardMoment {
	const now = steps.findLastIndex((step) => step.at <= at && at < step.until);
	const next = steps.findIndex((step) => step.at > at && !step.waits);
	const wait = (steps[next]?.at ?? Number.POSITIVE_INFINITY) - at;
	return {
		now: now < 0 ? undefined : now,
		next: next < 0 ? undefined : next,
		minutes: wait <= EVENING_MS ? Math.ceil(wait / 60_000) : undefined,
	};
}

/** The row of a table by the minute that holds at a moment: the last begun; undefined before the first and once its step of time is over. */
export function rowAt(times: readonly number[], at: number): number | undefined {
	const row = times.findLastIndex((time) => time <= at);
	const from = times[row];
	if (from === undefined) return undefined;
	const length = (times[row + 1] ?? from + 60_000) - from;
	return at < from + length ? row : undefined;
}

/** Whether the dim mode is on by itself. */
export const isDusk = (dusk: number, dawn: number, at: number): boolean => dusk <= at && at < dawn;
