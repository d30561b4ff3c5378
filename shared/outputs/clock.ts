/** Clock times of one night, for outputs. */
import { type EpochMs, offsetAt } from "../earth/zone.ts";
import { type Dated, laterTemplate } from "../notation/night-clock.ts";
import type { SiteClock } from "./site-clock.ts";

export {
	exactNightClock,
	type NightHour,
	nightClock,
	nightHours,
	nightInterval,
	nightSpan,
} from "../notation/night-clock.ts";

const HALF_DAY_MS = 43_200_000;

/** The clock by which a script tells times of an evening between two moments, and half a day around them. */
export function siteClockOf({ zone, date: { year, month, day } }: Dated, from: EpochMs, until: EpochMs): SiteClock {
	return {
		offsets: offsetsOf(zone, from - HALF_DAY_MS, until + HALF_DAY_MS),
		midnight: Date.UTC(year, month - 1, day + 1),
		later: laterTemplate(),
	};
}

/** One offset, or two with the moment at which the clock is changed. */
function offsetsOf(zone: string, before: EpochMs, after: EpochMs): SiteClock["offsets"] {
	const [first, last] = [offsetAt(zone, before), offsetAt(zone, after)];
	if (first === last) return [[0, first]];
	let [old, changed] = [before, after];
	while (changed - old > 1000) {
		const middle = (old + changed) / 2;
		if (offsetAt(zone, middle) === first) old = middle;
		else changed = middle;
	}
	return [
		[0, first],
		[changed, last],
	];
}
