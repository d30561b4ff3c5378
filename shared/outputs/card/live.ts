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
	const next = steps.findIndex((step) => step.at > at && !step.waits);
	const wait = (steps[next]?.at ?? Number.POSITIVE_INFINITY) - at;
	return {
		now: dueAt(steps, at),
		next: next < 0 ? undefined : next,
		minutes: wait <= EVENING_MS ? Math.ceil(wait / 60_000) : undefined,
	};
}

/** Of what has its turn one after the other, the last that has begun and is not over. */
export function dueAt(
	turns: readonly { readonly at: number; readonly until: number }[],
	at: number,
): number | undefined {
	const due = turns.findLastIndex((turn) => turn.at <= at && at < turn.until);
	return due < 0 ? undefined : due;
}

/** The row of a table by the minute that holds at a moment: the last begun; undefined before the first and once its step of time is over. */
export function rowAt(times: readonly number[], at: number): number | undefined {
	const row = times.findLastIndex((time) => time <= at);
	const from = times[row];
	if (from === undefined) return undefined;
	const length = (times[row + 1] ?? from + 60_000) - from;
	return at < from + length ? row : undefined;
}

/** Numbers by the minute as the card's file holds them. */
export interface LiveMinutes {
	/** The planned minute, where the plan says one. */
	readonly planned?: number;
	/** From when on nobody is late any more. */
	readonly until: number;
	/** The moment, its clock time, and the texts of its numbers. */
	readonly rows: readonly (readonly [at: number, clock: string, ...texts: string[]])[];
}

/** Places of the rows to show: that of this minute and the one after it, before all of them the planned one; none once they are over. */
export interface MinuteMoment {
	readonly rows: readonly number[];
	/** Whole minutes by which the planned one is over; 0 while it is not. */
	readonly late: number;
}

/** What is shown of a table at a moment. */
export function minuteMoment({ planned, until, rows }: LiveMinutes, at: number): MinuteMoment {
	const times = rows.map(([time]) => time);
	const row = rowAt(times, at);
	const isOver = at >= until || (times.length > 0 && row === undefined && at >= (times[0] as number));
	if (isOver) return { rows: [], late: 0 };
	const late = planned === undefined || row === undefined ? 0 : Math.max(0, Math.floor((at - planned) / 60_000));
	if (row !== undefined) return { rows: row + 1 < rows.length ? [row, row + 1] : [row], late };
	const place = planned === undefined ? -1 : times.indexOf(planned);
	return { rows: place < 0 ? [] : [place], late };
}

/** Whether the dim mode is on by itself. */
export const isDusk = (dusk: number, dawn: number, at: number): boolean => dusk <= at && at < dawn;
