/** Clock times of one night as they are told: those after midnight say so, `01:30 (+1)`. */
import type { CalendarDate } from "../earth/calendar.ts";
import { addDays, clockOf, type EpochMs, exactClock, minuteOf, offsetAt, wallClock } from "../earth/zone.ts";
import type { Interval } from "../sky/intervals.ts";
import { sentences, told } from "../text/sentence.ts";
import { intervalText } from "./interval.ts";

const words = sentences("notation.night-clock", { later: "{time} (+{days})", span: "{from}–{until}" });

const DAY_MS = 86_400_000;

const dayOf = ({ year, month, day }: CalendarDate): number => Date.UTC(year, month - 1, day) / DAY_MS;

/** A night's zone and the date of its evening. */
export interface Dated {
	readonly zone: string;
	readonly date: CalendarDate;
}

/** The evening that a moment belongs to, from noon to noon. */
export function eveningOf(zone: string, at: EpochMs): Dated {
	const { date, secondsOfDay } = wallClock(zone, at);
	return { zone, date: secondsOfDay < NOON ? addDays(date, -1) : date };
}

const NOON = 43_200;

/** `{time} (+{days})`: for a script, which tells times by a clock of its own. */
export const laterTemplate = (): string => told(words.later({ time: "{time}", days: "{days}" }));

/** `01:30 (+1)`: to the minute, with how many midnights after the evening's date it is. */
export const nightClock = (night: Dated, at: EpochMs): string =>
	marked(clockOf(night.zone, at), night, minuteOf(night.zone, at));

/** The same with its seconds where numbers were computed for a time between two minutes. */
export const exactNightClock = (night: Dated, at: EpochMs): string => marked(exactClock(night.zone, at), night, at);

/** `23:10–01:40 (+1)`, `01:10–01:40 (+1)`: the mark of the end is for both where both have it. */
export const nightInterval = (night: Dated, interval: Interval): string =>
	marked(intervalText(night.zone, interval), night, minuteOf(night.zone, interval.until, Math.floor));

/** The same of a step: its ends as they are told by themselves, rounded to the minute; a step within one minute has one time. */
export function nightSpan(night: Dated, { from, until }: Interval): string {
	const [first, last] = [clockOf(night.zone, from), clockOf(night.zone, until)];
	const end = nightClock(night, until);
	return first === last && until - from < DAY_MS ? end : told(words.span({ from: first, until: end }));
}

/** A whole hour of the clock: `23`, `00 (+1)`. */
export interface NightHour {
	readonly at: EpochMs;
	readonly text: string;
}

const HOUR_MS = 3_600_000;

/** The whole hours within a stretch of time, by the clock of its beginning. */
export function nightHours(night: Dated, { from, until }: Interval): readonly NightHour[] {
	const offset = offsetAt(night.zone, from);
	const first = Math.ceil((from + offset) / HOUR_MS) * HOUR_MS - offset;
	const count = until < first ? 0 : 1 + Math.floor((until - first) / HOUR_MS);
	return Array.from({ length: count }, (_, i) => {
		const at = first + i * HOUR_MS;
		return { at, text: marked(clockOf(night.zone, at).slice(0, 2), night, at) };
	});
}

function marked(time: string, { zone, date }: Dated, shown: EpochMs): string {
	const days = dayOf(wallClock(zone, shown).date) - dayOf(date);
	return days > 0 ? told(words.later({ time, days })) : time;
}
