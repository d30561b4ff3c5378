/**
 * Windows and times of a method on whole minutes of the site's clock. What is printed is what was computed: a time is
 * rounded first, and its numbers are for the rounded one; a window's ends are minutes at which the method works.
 */
import { type EpochMs, minuteOf } from "../earth/zone.ts";
import type { Interval } from "../sky/intervals.ts";

const MINUTE_MS = 60_000;

/** The first and the last whole minute of each window at which the method works; a window without one is none. */
export const onMinutes = (
	windows: readonly Interval[],
	works: (at: EpochMs) => boolean,
	zone: string,
): readonly Interval[] =>
	windows.flatMap((window) => {
		let from = minuteOf(zone, window.from, Math.ceil);
		let until = minuteOf(zone, window.until, Math.floor);
		while (from <= until && !works(from)) from += MINUTE_MS;
		while (from <= until && !works(until)) until -= MINUTE_MS;
		return from <= until ? [{ from, until }] : [];
	});

/**
 * The whole minute nearest the one wished for at which the method works, in windows from `onMinutes`. A method that
 * chooses its time itself takes it from here: its own choice is never one that it refuses.
 */
export function minuteNear(
	wish: EpochMs,
	windows: readonly Interval[],
	works: (at: EpochMs) => boolean,
	zone: string,
): EpochMs | undefined {
	const wished = minuteOf(zone, wish);
	let best: EpochMs | undefined;
	for (const { from, until } of windows) {
		const start = Math.min(Math.max(wished, from), until);
		for (let step = 0; start - step >= from || start + step <= until; step += MINUTE_MS) {
			const found = [start - step, start + step].find((at) => at >= from && at <= until && works(at));
			if (found === undefined) continue;
			if (best === undefined || Math.abs(found - wished) < Math.abs(best - wished)) best = found;
			break;
		}
	}
	return best;
}
