/** A stretch of time as the site's clock shows it: `19:40–01:20`. */
import { clockOf } from "../earth/zone.ts";
import type { Interval } from "../sky/intervals.ts";

export const intervalText = (zone: string, { from, until }: Interval): string =>
	`${clockOf(zone, from)}–${clockOf(zone, until)}`;
