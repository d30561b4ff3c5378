/** A stretch of time as the site's clock shows it: `19:40–01:20`. One rule of rounding for all windows. */
import { clockOf, minuteOf } from "../earth/zone.ts";
import type { Interval } from "../sky/intervals.ts";

/** From its first whole minute to its last: at both ends, and at each in between, what it is of holds. One alone is one time. */
export function intervalText(zone: string, { from, until }: Interval): string {
	const [first, last] = [minuteOf(zone, from, Math.ceil), minuteOf(zone, until, Math.floor)];
	if (first === last) return clockOf(zone, first);
	return first < last
		? `${clockOf(zone, first)}–${clockOf(zone, last)}`
		: `${clockOf(zone, from)}–${clockOf(zone, until)}`;
}
