/**
 * An alignment comes before the first tracked frame: times to prefer, and what is too late. A method's `at` is the moment
 * that its numbers are for: half of what it takes lies before it, half after (common practice, no source).
 */
import type { EpochMs } from "../earth/zone.ts";
import type { Interval } from "../sky/intervals.ts";
import type { CommonContent } from "./common-keys.ts";
import type { Tonight } from "./tonight.ts";

/** When a method is done whose `at` is known, by the minutes that it takes. */
export const doneAt = (at: EpochMs, minutes: number): EpochMs => at + minutes * 30_000;

/** Minutes that a method takes: as the cell says, else as is usual for it. */
export const minutesTaken = ({ takes }: CommonContent, usual: number): number =>
	takes === undefined ? usual : takes / 60;

/** The last `at` of a method that is to be done by the first tracked frame. */
const latest = ({ firstFrame }: Tonight, minutes: number): EpochMs | undefined =>
	firstFrame === undefined ? undefined : firstFrame - minutes * 30_000;

/** The parts of windows from which a method is done in time; all of them where it never is. */
export function inTime(windows: readonly Interval[], tonight: Tonight, minutes: number): readonly Interval[] {
	const last = latest(tonight, minutes);
	if (last === undefined) return windows;
	const early = windows.flatMap(({ from, until }) => (from <= last ? [{ from, until: Math.min(until, last) }] : []));
	return early.length > 0 ? early : windows;
}

/** Puts what is too late for the first tracked frame behind what is not; the order is kept among both. */
export function lateLast<T extends { readonly at: EpochMs }>(
	found: readonly T[],
	tonight: Tonight,
	minutes: number,
): readonly T[] {
	const last = latest(tonight, minutes);
	if (last === undefined) return found;
	return [...found.filter(({ at }) => at <= last), ...found.filter(({ at }) => at > last)];
}
