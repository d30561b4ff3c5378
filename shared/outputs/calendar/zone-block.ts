/** A time zone as a calendar has it (RFC 5545, 3.6.5 VTIMEZONE): the changes of its clock around an evening. */
import { dayNumber, WEEKDAYS, weekdayOf } from "../../earth/calendar.ts";
import { type ClockChange, clockChanges, type EpochMs, offsetAt, wallClock } from "../../earth/zone.ts";

/**
 * Changes that come every year on the same day of the same month are a rule; others are written one by one, from the
 * year before the moment to four years after it. A clock that does not change has one offset, for all times.
 */
export function zoneBlock(zone: string, around: EpochMs): string {
	const { year } = wallClock(zone, around).date;
	const changes = clockChanges(zone, Date.UTC(year - 1, 0, 1), Date.UTC(year + YEARS_AFTER + 1, 0, 1));
	const [first] = changes;
	const steady = first?.before ?? offsetAt(zone, around);
	const regular = rulesOf(changes);
	// What holds before the first change that is written.
	const before = part("STANDARD", ALWAYS, steady, steady);
	const parts =
		regular ?? (changes.length === 0 ? [before] : [before, ...changes.map((change) => partOf(change, undefined))]);
	return ["BEGIN:VTIMEZONE", `TZID:${zone}`, ...parts, "END:VTIMEZONE"].join("\r\n");
}

const YEARS_AFTER = 4;
const ALWAYS = "19700101T000000";

/** The two changes of each year as rules, where each is the same in all of them; undefined where not. */
function rulesOf(changes: readonly ClockChange[]): readonly string[] | undefined {
	const forward = changes.filter(({ before, after }) => after > before);
	const back = changes.filter(({ before, after }) => after < before);
	const parts: string[] = [];
	for (const same of [forward, back]) {
		const [first] = same;
		// The year before the moment, its own, and those after.
		if (!first || same.length !== YEARS_AFTER + 2) return undefined;
		const rule = ruleOf(same);
		if (rule === undefined) return undefined;
		parts.push(partOf(first, rule));
	}
	return parts;
}

/** The rule by which changes come, one a year; undefined where there is none such. */
function ruleOf(changes: readonly ClockChange[]): string | undefined {
	const days = changes.map((change) => {
		const { date, secondsOfDay } = clockBefore(change);
		const length = dayNumber({ year: date.year, month: date.month + 1, day: 1 }) - dayNumber({ ...date, day: 1 });
		const weekday = weekdayOf(date).slice(0, 2).toUpperCase();
		const counted = [
			{ day: `${Math.ceil(date.day / WEEKDAYS.length)}${weekday}` },
			...(date.day + WEEKDAYS.length > length ? [{ day: `-1${weekday}` }] : []),
		];
		const { before, after } = change;
		return counted.map(({ day }) => ({ rule: `BYMONTH=${date.month};BYDAY=${day}`, secondsOfDay, before, after }));
	});
	const known = days[0]?.find((one) => days.every((day) => day.some((other) => isSame(one, other))));
	return known?.rule;
}

interface Counted {
	readonly rule: string;
	readonly secondsOfDay: number;
	readonly before: number;
	readonly after: number;
}

const isSame = (a: Counted, b: Counted): boolean =>
	a.rule === b.rule && a.secondsOfDay === b.secondsOfDay && a.before === b.before && a.after === b.after;

/** What the clock would have shown without the change: its moment as it is written. */
const clockBefore = ({ at, before }: ClockChange): ReturnType<typeof wallClock> => wallClock("UTC", at + before);

function partOf(change: ClockChange, rule: string | undefined): string {
	const { date, secondsOfDay } = clockBefore(change);
	const two = (number: number): string => String(number).padStart(2, "0");
	const clock = [secondsOfDay / 3600, (secondsOfDay / 60) % 60, secondsOfDay % 60].map((one) => two(Math.floor(one)));
	const begins = `${date.year}${two(date.month)}${two(date.day)}T${clock.join("")}`;
	const name = change.after > change.before ? "DAYLIGHT" : "STANDARD";
	return part(name, begins, change.before, change.after, rule);
}

const part = (name: string, begins: string, before: number, after: number, rule?: string): string =>
	[
		`BEGIN:${name}`,
		`DTSTART:${begins}`,
		...(rule === undefined ? [] : [`RRULE:FREQ=YEARLY;${rule}`]),
		`TZOFFSETFROM:${offsetText(before)}`,
		`TZOFFSETTO:${offsetText(after)}`,
		`END:${name}`,
	].join("\r\n");

/** `+0200`; with seconds where a clock had some. */
function offsetText(offsetMs: number): string {
	const seconds = Math.round(Math.abs(offsetMs) / 1000);
	const parts = [seconds / 3600, (seconds / 60) % 60, ...(seconds % 60 === 0 ? [] : [seconds % 60])];
	return `${offsetMs < 0 ? "-" : "+"}${parts.map((one) => String(Math.floor(one)).padStart(2, "0")).join("")}`;
}
