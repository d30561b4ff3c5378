/**
 * Numbers by the minute: what changes with the clock, around the planned minute, so that being late costs nothing. Each
 * row is computed for exactly the minute it names.
 */
import { clockOf, type EpochMs, minuteOf } from "../earth/zone.ts";
import type { Value } from "../notation/value.ts";
import { type Interval, intervalAt } from "../sky/intervals.ts";

export interface MinuteRow {
	readonly at: EpochMs;
	/** The planned minute. */
	readonly planned: boolean;
	readonly values: readonly Value[];
}

const MINUTE_MS = 60_000;
/** A window up to this is told minute by minute, a longer one in steps of five, minutes. */
const SHORT = 30;
const LONG_STEP = 5;
/** How far from the planned minute a long window is told, and what is told where the plan's minute lies in none, minutes. */
const FAR = 60;
const NEAR = 10;

/** Rows of the window that holds the planned minute. */
export function minuteTable(
	windows: readonly Interval[],
	planned: EpochMs,
	zone: string,
	valuesAt: (at: EpochMs) => readonly Value[],
): readonly MinuteRow[] {
	return minutesAround(windows, planned, zone).map((at) => ({ at, planned: at === planned, values: valuesAt(at) }));
}

/** The same minute by minute, and beyond an hour of the planned one every five minutes to the window's ends: for what is live. */
export function everyMinute(
	windows: readonly Interval[],
	planned: EpochMs,
	zone: string,
	valuesAt: (at: EpochMs) => readonly Value[],
): readonly MinuteRow[] {
	const window = windowOf(windows, planned);
	const found: EpochMs[] = [];
	for (let at = minuteOf(zone, window.from, Math.ceil); at <= window.until; at += MINUTE_MS)
		if (Math.abs(at - planned) <= FAR * MINUTE_MS || isRound(zone, at)) found.push(at);
	return found.map((at) => ({ at, planned: at === planned, values: valuesAt(at) }));
}

function minutesAround(windows: readonly Interval[], planned: EpochMs, zone: string): readonly EpochMs[] {
	const window = windowOf(windows, planned);
	const isShort = window.until - window.from <= SHORT * MINUTE_MS;
	const { from, until } = isShort ? window : around(planned, FAR);
	const first = minuteOf(zone, Math.max(from, window.from), Math.ceil);
	const last = Math.min(until, window.until);
	const found: EpochMs[] = [];
	for (let at = first; at <= last; at += MINUTE_MS) {
		if (isShort || at === planned || isRound(zone, at)) found.push(at);
	}
	if (!found.includes(planned)) found.push(planned);
	return found.sort((a, b) => a - b);
}

const around = (at: EpochMs, minutes: number): Interval => ({
	from: at - minutes * MINUTE_MS,
	until: at + minutes * MINUTE_MS,
});

const windowOf = (windows: readonly Interval[], planned: EpochMs): Interval =>
	intervalAt(windows, planned) ?? around(planned, NEAR);

/** Whether the clock shows a multiple of five minutes. */
const isRound = (zone: string, at: EpochMs): boolean => Number(clockOf(zone, at).slice(3)) % LONG_STEP === 0;
