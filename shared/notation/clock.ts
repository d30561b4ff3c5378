/** Clock times `HH:MM` and `HH:MM:SS`, and dates `YYYY-MM-DD`, as they stand in a plan. */
import type { CalendarDate } from "../earth/calendar.ts";

/** Seconds after midnight of a clock time, 0 … 86 399, or undefined when `text` is none. */
export function readClockTime(text: string): number | undefined {
	const match = /^(\d{1,2}):(\d{2})(?::(\d{2}))?$/.exec(text.trim());
	if (!match) return undefined;
	const [hours, minutes, seconds] = [Number(match[1]), Number(match[2]), Number(match[3] ?? 0)];
	if (hours > 23 || minutes > 59 || seconds > 59) return undefined;
	return hours * 3600 + minutes * 60 + seconds;
}

/** `HH:MM`, or `HH:MM:SS` when there are seconds. */
export function clockText(secondsOfDay: number): string {
	const two = (value: number) => String(value).padStart(2, "0");
	const seconds = secondsOfDay % 60;
	const minutes = Math.floor(secondsOfDay / 60) % 60;
	const hours = Math.floor(secondsOfDay / 3600) % 24;
	return seconds === 0 ? `${two(hours)}:${two(minutes)}` : `${two(hours)}:${two(minutes)}:${two(seconds)}`;
}

/** Reads `YYYY-MM-DD`; undefined when the text is no such date or the day does not exist. */
export function readDate(text: string): CalendarDate | undefined {
	const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text.trim());
	if (!match) return undefined;
	const [year, month, day] = [Number(match[1]), Number(match[2]), Number(match[3])];
	const back = new Date(Date.UTC(year, month - 1, day));
	if (year < 100 || back.getUTCFullYear() !== year || back.getUTCMonth() !== month - 1 || back.getUTCDate() !== day)
		return undefined;
	return { year, month, day };
}

/** `YYYY-MM-DD`. */
export function dateText({ year, month, day }: CalendarDate): string {
	return `${String(year).padStart(4, "0")}-${String(month).padStart(2, "0")}-${String(day).padStart(2, "0")}`;
}
