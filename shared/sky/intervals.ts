/** Stretches of time and what can be done with lists of them. Lists are sorted and do not overlap. */
import { type EpochMs, minuteDown, minuteUp } from "../earth/zone.ts";

export interface Interval {
	readonly from: EpochMs;
	readonly until: EpochMs;
}

/** The times that lie in both lists. */
export function both(a: readonly Interval[], b: readonly Interval[]): readonly Interval[] {
	const shared: Interval[] = [];
	for (const one of a) {
		for (const other of b) {
			const from = Math.max(one.from, other.from);
			const until = Math.min(one.until, other.until);
			if (from < until) shared.push({ from, until });
		}
	}
	return shared;
}

/** The times that lie in one list or the other. */
export function either(a: readonly Interval[], b: readonly Interval[]): readonly Interval[] {
	const joined: { from: EpochMs; until: EpochMs }[] = [];
	for (const { from, until } of [...a, ...b].sort((one, other) => one.from - other.from)) {
		const last = joined[joined.length - 1];
		if (last && from <= last.until) last.until = Math.max(last.until, until);
		else joined.push({ from, until });
	}
	return joined;
}

/** The times of `within` that lie in none of the list. */
export function outside(list: readonly Interval[], within: Interval): readonly Interval[] {
	const rest: Interval[] = [];
	let from = within.from;
	for (const { from: start, until } of list) {
		if (start > from) rest.push({ from, until: Math.min(start, within.until) });
		from = Math.max(from, until);
		if (from >= within.until) break;
	}
	if (from < within.until) rest.push({ from, until: within.until });
	return rest.filter((interval) => interval.from < interval.until);
}

/** All the time of a list, in minutes. */
export const totalMinutes = (list: readonly Interval[]): number =>
	list.reduce((sum, { from, until }) => sum + (until - from) / 60_000, 0);

/** Those with a minute of the clock in them from its beginning to its end: in less nothing can be done that a plan says. */
export const withWholeMinutes = (list: readonly Interval[]): readonly Interval[] =>
	list.every(hasWholeMinute) ? list : list.filter(hasWholeMinute);

const hasWholeMinute = ({ from, until }: Interval): boolean => minuteUp(from) < minuteDown(until);

/** The first of the intervals in which an instant lies, ends included. */
export const intervalAt = (list: readonly Interval[], at: EpochMs): Interval | undefined =>
	list.find(({ from, until }) => from <= at && at <= until);

/** Whether an instant lies in one of the intervals, ends included. */
export const contains = (list: readonly Interval[], at: EpochMs): boolean => intervalAt(list, at) !== undefined;

/** Whether two intervals share more than an end. */
export const overlaps = (a: Interval, b: Interval): boolean => a.from < b.until && b.from < a.until;

/** The longest of a list. */
export const longest = (list: readonly Interval[]): Interval | undefined =>
	list.reduce<Interval | undefined>(
		(best, one) => (best && best.until - best.from >= one.until - one.from ? best : one),
		undefined,
	);
