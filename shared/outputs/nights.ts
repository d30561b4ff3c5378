/** Nights of a season in words: their weekday, and from when to when they are usable. */
import { type CalendarDate, type Weekday, weekdayOf } from "../earth/calendar.ts";
import type { NightChoice } from "../evaluate/nights.ts";
import { sentences, told } from "../text/sentence.ts";
import { nightInterval } from "./clock.ts";

const words = sentences("output.nights", {
	mon: "Mon",
	tue: "Tue",
	wed: "Wed",
	thu: "Thu",
	fri: "Fri",
	sat: "Sat",
	sun: "Sun",
	parts: "{when} in {parts} parts",
	lowWater: "Low water is not known for other dates: look it up in the local tide table before you choose one.",
});

export const weekdayText = (date: CalendarDate): string => told(words[weekdayOf(date) satisfies Weekday]());

/** The first and the last usable minute; empty where there is none. */
export function usableText({ night, windows }: NightChoice): string {
	const [first, last] = [windows[0], windows.at(-1)];
	if (!first || !last) return "";
	const when = nightInterval(night, { from: first.from, until: last.until });
	return windows.length === 1 ? when : told(words.parts({ when, parts: windows.length }));
}

/** What is said of all nights by the sea. */
export const lowWaterUnknown = (): string => told(words.lowWater());
