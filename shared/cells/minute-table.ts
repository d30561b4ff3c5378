/**
 * Numbers by the minute: what changes with the clock, around the planned minute, so that being late costs nothing. Each
 * row is computed for exactly the minute it names.
 */
import { clockOf, type EpochMs, minuteOf } from "../earth/zone.ts";
import type { Value } from "../notation/value.ts";
import type { Interval } from "../sky/intervals.ts";

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

function minutesAround(windows: readonly Interval[], planned: EpochMs, zone: string): readonly EpochMs[] {
	const around = (minutes: number): Interval => ({
		from: planned - minutes * MINUTE_MS,
		until: planned + minutes * MINUTE_MS,
	});
	const own = windows.find(({ from, until }) => from <= planned && planned <= until);
	const window = own ?? around(NEAR);
	const isShort = window.until - window.from <= SHORT * MINUTE_MS;
	const { from, until } = isShort ? window : around(FAR);
	const first = minuteOf(zone, Math.max(from, window.from), Math.ceil);
	const last = Math.min(until, window.until);
	const found: EpochMs[] = [];
	for (let at = first; at <= last; at += MINUTE_MS) {
		if (isShort || at === planned || isRound(zone, at)) found.push(at);
	}
	if (!found.includes(planned)) found.push(planned);
	return found.sort((a, b) => a - b);
}

/** Whether the clock shows a multiple of five minutes. */
const isRound = (zone: string, at: EpochMs): boolean => Number(clockOf(zone, at).slice(3)) % LONG_STEP === 0;
