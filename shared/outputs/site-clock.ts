/** Clock times as a page's script tells them: the site's, whatever the device's zone. Pure, and small enough for every page. */

/** What is needed to tell them. */
export interface SiteClock {
	/** The clock's offset from UTC, milliseconds, each with the moment from which it holds. */
	readonly offsets: readonly (readonly [from: number, offset: number])[];
	/** The midnight that ends the evening's date, as the clock has it: epoch milliseconds, were its zone UTC. */
	readonly midnight: number;
	/** How a time after it is told, `{time}` and `{days}` to be filled in. */
	readonly later: string;
}

const DAY_MS = 86_400_000;
const MINUTE_MS = 60_000;

/** `23:10`, `01:30 (+1)`: to the nearest minute. */
export function siteClockText({ offsets, midnight, later }: SiteClock, at: number): string {
	const local = Math.round((at + offsetOf(offsets, at)) / MINUTE_MS) * MINUTE_MS;
	const time = new Date(local).toISOString().slice(11, 16);
	const days = Math.floor((local - midnight) / DAY_MS) + 1;
	return days > 0 ? later.replace("{time}", time).replace("{days}", String(days)) : time;
}

/** The offset that holds at a moment. */
const offsetOf = (offsets: SiteClock["offsets"], at: number): number =>
	(offsets.findLast(([from]) => from <= at) ?? offsets[0])?.[1] ?? 0;
