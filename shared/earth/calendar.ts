/** A calendar date of the proleptic Gregorian calendar. */
export interface CalendarDate {
	readonly year: number;
	readonly month: number;
	readonly day: number;
}
