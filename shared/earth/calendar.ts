/** A calendar date of the proleptic Gregorian calendar. */
export interface CalendarDate {
	readonly year: number;
	readonly month: number;
	readonly day: number;
}

const DAY_MS = 86_400_000;

/** Days since 1970-01-01. */
export const dayNumber = ({ year, month, day }: CalendarDate): number =>
	Math.round(Date.UTC(year, month - 1, day) / DAY_MS);

/** The days of a week, as commands take them. */
export const WEEKDAYS = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"] as const;
export type Weekday = (typeof WEEKDAYS)[number];

/** The first of January 1970 was a Thursday. */
export const weekdayOf = (date: CalendarDate): Weekday => WEEKDAYS[(((dayNumber(date) + 3) % 7) + 7) % 7] as Weekday;
