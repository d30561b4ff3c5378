/**
 * An alignment comes before the first tracked frame: times to prefer, and what is too late. A method's `at` is the moment
 * that its numbers are for: half of what it takes lies before it, half after (common practice, no source).
 */
import { type EpochMs, minuteDown } from "../earth/zone.ts";
import type { Interval } from "../sky/intervals.ts";
import type { CommonContent } from "./common-keys.ts";
import type { Tonight } from "./tonight.ts";

/** When a method is begun whose `at` is known, by the minutes that it takes. */
export const beginAt = (at: EpochMs, minutes: number): EpochMs => at - minutes * 30_000;

/** When it is done: it is begun on a whole minute, as the evening has it. */
export const doneAt = (at: EpochMs, minutes: number): EpochMs => doneFrom(beginAt(at, minutes), minutes);

/** The same of what is begun at a moment. */
export const doneFrom = (begins: EpochMs, minutes: number): EpochMs => minuteDown(begins) + minutes * 60_000;

/** Minutes that a method takes: as the cell says, else as is usual for it. */
export const minutesTaken = ({ takes }: CommonContent, usual: number): number =>
	takes === undefined ? usual : takes / 60;

/** The first and the last `at` of a method that is begun when one is ready and done when it is due. */
const within = ({ ready, due, pace }: Tonight, minutes: number): Interval => ({
	from: ready + minutes * pace * 30_000,
	until: (due ?? Number.POSITIVE_INFINITY) - minutes * pace * 30_000,
});

/** The parts of windows in which a method leaves the frames whole; where there are none, those before they begin, else all. */
export function inTime(windows: readonly Interval[], tonight: Tonight, minutes: number): readonly Interval[] {
	const { from, until } = within(tonight, minutes);
	const parts = (first: EpochMs): readonly Interval[] =>
		windows.flatMap((window) => {
			const part = { from: Math.max(window.from, first), until: Math.min(window.until, until) };
			return part.from <= part.until ? [part] : [];
		});
	const whole = parts(from);
	if (whole.length > 0) return whole;
	const early = parts(Number.NEGATIVE_INFINITY);
	return early.length > 0 ? early : windows;
}

/** Puts what does not leave the frames whole, or comes before one is ready, behind what does; the order is kept among both. */
export function lateLast<T extends { readonly at: EpochMs }>(
	found: readonly T[],
	tonight: Tonight,
	minutes: number,
): readonly T[] {
	const { from, until } = within(tonight, minutes);
	const isInTime = ({ at }: T): boolean => from <= at && at <= until;
	return [...found.filter(isInTime), ...found.filter((one) => !isInTime(one))];
}
