/**
 * Time zones: clock times of a place to instants and back. Offsets come from the runtime's own IANA tables through
 * `Intl`, zones of coordinates from a table that works offline (accurate to a few kilometres near borders).
 */
import zoneOfCoordinates from "@photostructure/tz-lookup";
import { Kept } from "../memory/memory.ts";
import type { CalendarDate } from "./calendar.ts";

/** Milliseconds since 1970-01-01 UTC. */
export type EpochMs = number;

const DAY_MS = 86_400_000;

/** Clocks of zones that are known to exist. */
const zones = new Kept<string, ZoneClock>(200);

/** Whether the runtime knows an IANA zone by this name, or it is a fixed offset such as `+02:00`. */
export function isZone(name: string): boolean {
	if (zones.has(name)) return true;
	try {
		zones.of(name, clockOfZone);
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

/** Offset from UTC of a zone at an instant, in milliseconds, east positive. Throws a RangeError for a zone that does not exist. */
export const offsetAt = (zone: string, at: EpochMs): number => zones.of(zone, clockOfZone).offsetAt(at);

/** The offsets of one zone. */
interface ZoneClock {
	readonly offsetAt: (at: EpochMs) => number;
}

/** Throws a RangeError for a zone that does not exist. */
function clockOfZone(zone: string): ZoneClock {
	const fixed = /^([+-])(\d\d)(?::?(\d\d))?$/.exec(zone);
	if (!fixed) return new NamedZone(zone);
	const [, sign, hours, minutes = "0"] = fixed;
	if (Number(hours) > 23 || Number(minutes) > 59) throw new RangeError(`${zone} is no offset`);
	const offset = (Number(hours) * 60 + Number(minutes)) * MINUTE_MS * (sign === "-" ? -1 : 1);
	return { offsetAt: () => offset };
}

const MINUTE_MS = 60_000;
/** Names of ICU's own that are in no table of IANA's, or stand for different zones. */
const NOT_IANA = /^(?:AC|AE|AG|AR|AS|BE|BS|CA|CN|CS|CT|EA|EC|ET|IE|IS|JS|MI|NE|NS|PL|PN|PR|PS|SS|VS)T$/;
/**
 * Within a span of this length an offset changes once at most: the shortest time between two changes of any zone since
 * 1900 is longer (tested).
 */
const SPAN_MS = 4 * DAY_MS;
const KEPT_SPANS = 400;
/** Before this every zone keeps the mean time of its place. */
const FIRST = Date.UTC(1800, 0, 1);

/** A zone of the runtime's tables. Offsets are asked for at the ends of spans; where they differ, the change is searched for. */
class NamedZone implements ZoneClock {
	readonly #format: Intl.DateTimeFormat;
	/** Offsets at the starts of spans, and instants of changes in spans that have one, by the number of the span. */
	readonly #starts = new Kept<number, number>(KEPT_SPANS);
	readonly #changes = new Kept<number, EpochMs>(KEPT_SPANS);

	constructor(zone: string) {
		if (NOT_IANA.test(zone)) throw new RangeError(`${zone} is no zone`);
		this.#format = new Intl.DateTimeFormat("en-US", {
			timeZone: zone,
			calendar: "iso8601",
			numberingSystem: "latn",
			hourCycle: "h23",
			era: "short",
			year: "numeric",
			month: "numeric",
			day: "numeric",
			hour: "numeric",
			minute: "numeric",
			second: "numeric",
		});
	}

	offsetAt(at: EpochMs): number {
		const time = Math.max(at, FIRST);
		const span = Math.floor(time / SPAN_MS);
		const [here, next] = [this.#startOf(span), this.#startOf(span + 1)];
		return here === next || time < this.#changes.of(span, () => this.#changeIn(span, here)) ? here : next;
	}

	#startOf(span: number): number {
		return this.#starts.of(span, () => this.#ask(span * SPAN_MS));
	}

	/** The instant, to the second, from which on the offset is not what it is at the start of a span. */
	#changeIn(span: number, before: number): EpochMs {
		let [low, high] = [span * SPAN_MS, (span + 1) * SPAN_MS];
		while (high - low > 1000) {
			const middle = Math.floor((low + high) / 2000) * 1000;
			if (this.#ask(middle) === before) low = middle;
			else high = middle;
		}
		return high;
	}

	/** The offset at a whole second, from what the zone's clocks show then. */
	#ask(at: EpochMs): number {
		const parts: Record<string, string> = {};
		for (const { type, value } of this.#format.formatToParts(at)) parts[type] = value;
		const part = (name: string): number => Number(parts[name]);
		const year = parts.era?.startsWith("B") ? 1 - part("year") : part("year");
		return Date.UTC(year, part("month") - 1, part("day"), part("hour"), part("minute"), part("second")) - at;
	}
}

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

/** ISO 8601 with the zone's offset, to the second: `2027-06-05T20:01:00+02:00`. */
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
	const step = seconds ? 1000 : 60_000;
	const rounded = Math.round(at / step) * step;
	return new Date(rounded + offsetAt(zone, rounded)).toISOString().slice(11, seconds ? 19 : 16);
}

/** The date `days` after another. */
export function addDays(date: CalendarDate, days: number): CalendarDate {
	const moved = new Date(Date.UTC(date.year, date.month - 1, date.day + days));
	return { year: moved.getUTCFullYear(), month: moved.getUTCMonth() + 1, day: moved.getUTCDate() };
}
