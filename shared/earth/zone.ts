/**
 * Time zones: clock times of a place to instants and back. Offsets come from the runtime's own IANA tables through
 * Temporal (temporal-polyfill), zones of coordinates from a table that works offline (accurate to a few kilometres
 * near borders).
 */
import zoneOfCoordinates from "@photostructure/tz-lookup";
import { Temporal } from "temporal-polyfill";
import { Kept } from "../memory/memory.ts";
import type { CalendarDate } from "./calendar.ts";

/** Milliseconds since 1970-01-01 UTC. */
export type EpochMs = number;

const DAY_MS = 86_400_000;

/** A stretch of time in which a zone's offset does not change, as far back as it was asked for. */
interface Stretch {
	readonly from: EpochMs;
	readonly until: EpochMs;
	readonly offsetMs: number;
}

const KEPT_STRETCHES = 64;
/** Stretches that are known, by zone. */
const zones = new Kept<string, Stretch[]>(200);
const noStretches = (): Stretch[] => [];

/** Whether the runtime knows an IANA zone by this name. */
export function isZone(name: string): boolean {
	if (zones.has(name)) return true;
	try {
		timeIn(name, 0);
		return true;
	} catch {
		return false;
	}
}

/** IANA name of the zone at a place. At sea it is the nautical zone. */
export function zoneAt(latitude: number, longitude: number): string {
	return zoneOfCoordinates(latitude, longitude);
}

/** Every IANA zone the runtime knows, for completion and for the nearest known word. */
export function knownZones(): readonly string[] {
	return Intl.supportedValuesOf("timeZone");
}

/** The constructor takes names of zones and nothing else; where texts are taken too, their whole grammar is compiled first. */
const timeIn = (zone: string, at: EpochMs): Temporal.ZonedDateTime =>
	new Temporal.ZonedDateTime(BigInt(Math.floor(at)) * 1_000_000n, zone);

/** Offset from UTC of a zone at an instant, in milliseconds, east positive. Throws a RangeError for a zone that does not exist. */
export function offsetAt(zone: string, at: EpochMs): number {
	const known = zones.get(zone)?.find((stretch) => stretch.from <= at && at < stretch.until);
	if (known) return known.offsetMs;
	const here = timeIn(zone, at);
	const until = here.getTimeZoneTransition("next")?.epochMilliseconds ?? Number.POSITIVE_INFINITY;
	const offsetMs = here.offsetNanoseconds / 1e6;
	const stretches = zones.of(zone, noStretches);
	// What ends with the same change began before what is known of it. The change before is not searched for: where
	// clocks have not been changed for a century, that takes ten milliseconds.
	const same = stretches.findIndex((stretch) => stretch.until === until && stretch.offsetMs === offsetMs);
	if (same >= 0) stretches.splice(same, 1);
	else if (stretches.length >= KEPT_STRETCHES) stretches.length = 0;
	stretches.push({ from: Math.floor(at), until, offsetMs });
	return offsetMs;
}

/** A change of a zone's clock: milliseconds east of UTC until then and from then on. */
export interface ClockChange {
	readonly at: EpochMs;
	readonly before: number;
	readonly after: number;
}

/** The changes of a zone's clock after `from` and before `until`, in their order. */
export function clockChanges(zone: string, from: EpochMs, until: EpochMs): readonly ClockChange[] {
	const changes: ClockChange[] = [];
	for (let here = timeIn(zone, from); ; ) {
		const next = here.getTimeZoneTransition("next");
		if (!next || next.epochMilliseconds >= until) return changes;
		const at = next.epochMilliseconds;
		changes.push({ at, before: offsetAt(zone, at - 1), after: offsetAt(zone, at) });
		here = next;
	}
}

/** An instant as it stands on a zone's clock, for libraries that write such times. */
export const zonedTime = (zone: string, at: EpochMs): Temporal.ZonedDateTime => timeIn(zone, at);

/**
 * The instants at which clocks of a zone show `secondsOfDay` on a date: one, none (skipped by a change to summer
 * time), or two (shown twice by a change back).
 */
export function instantsOf(zone: string, date: CalendarDate, secondsOfDay: number): readonly EpochMs[] {
	const wall = Date.UTC(date.year, date.month - 1, date.day) + secondsOfDay * 1000;
	const offsets = new Set([offsetAt(zone, wall - DAY_MS), offsetAt(zone, wall + DAY_MS)]);
	return [...offsets]
		.map((offset) => wall - offset)
		.filter((instant) => offsetAt(zone, instant) === wall - instant)
		.sort((a, b) => a - b);
}

/** The first instant at or after a clock time that may not exist: the skipped hour's end stands for its times. */
export function instantOf(zone: string, date: CalendarDate, secondsOfDay: number): EpochMs {
	const found = instantsOf(zone, date, secondsOfDay)[0];
	if (found !== undefined) return found;
	const wall = Date.UTC(date.year, date.month - 1, date.day) + secondsOfDay * 1000;
	return wall - offsetAt(zone, wall - DAY_MS);
}

/** The clock date and time of an instant in a zone. */
export function wallClock(zone: string, at: EpochMs): { readonly date: CalendarDate; readonly secondsOfDay: number } {
	const wall = new Date(at + offsetAt(zone, at));
	return {
		date: { year: wall.getUTCFullYear(), month: wall.getUTCMonth() + 1, day: wall.getUTCDate() },
		secondsOfDay: wall.getUTCHours() * 3600 + wall.getUTCMinutes() * 60 + wall.getUTCSeconds(),
	};
}

/** ISO 8601 with the zone's offset, to the second: `2027-06-05T20:01:00-03:00`. */
export function isoText(zone: string, at: EpochMs): string {
	const rounded = Math.round(at / 1000) * 1000;
	const offset = offsetAt(zone, rounded);
	const minutes = Math.round(Math.abs(offset) / 60_000);
	const two = (value: number) => String(value).padStart(2, "0");
	const sign = offset < 0 ? "-" : "+";
	return `${new Date(rounded + offset).toISOString().slice(0, 19)}${sign}${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`;
}

/** `HH:MM` of the zone's clock, rounded to the minute; `HH:MM:SS` when asked for seconds. */
export function clockOf(zone: string, at: EpochMs, seconds = false): string {
	const rounded = onClock(zone, at, seconds ? 1000 : MINUTE_MS, Math.round);
	return new Date(rounded + offsetAt(zone, rounded)).toISOString().slice(11, seconds ? 19 : 16);
}

/** The clock time of an instant that numbers were computed for: with its seconds where it is not on a whole minute. */
export const exactClock = (zone: string, at: EpochMs): string => clockOf(zone, at, minuteOf(zone, at) !== at);

/** The whole minute of the zone's clock nearest an instant; the one at or after it (`Math.ceil`), at or before it (`Math.floor`). */
export const minuteOf = (zone: string, at: EpochMs, round: (minutes: number) => number = Math.round): EpochMs =>
	onClock(zone, at, MINUTE_MS, round);

const MINUTE_MS = 60_000;

/** The whole minute at or after an instant, of clocks whose offset from UTC is whole minutes: all today's. */
export const minuteUp = (at: EpochMs): EpochMs => Math.ceil(at / MINUTE_MS) * MINUTE_MS;
/** The whole minute at or before it. */
export const minuteDown = (at: EpochMs): EpochMs => Math.floor(at / MINUTE_MS) * MINUTE_MS;

/** The clock's own steps: where a zone was some odd seconds from UTC they are not those of UTC. */
function onClock(zone: string, at: EpochMs, step: number, round: (steps: number) => number): EpochMs {
	const offset = offsetAt(zone, at);
	return round((at + offset) / step) * step - offset;
}

/** The date `days` after another. */
export function addDays(date: CalendarDate, days: number): CalendarDate {
	const moved = new Date(Date.UTC(date.year, date.month - 1, date.day + days));
	return { year: moved.getUTCFullYear(), month: moved.getUTCMonth() + 1, day: moved.getUTCDate() };
}
