/** Nights of a season in words: their weekday, and from when to when they are usable. */
import { type CalendarDate, type Weekday, weekdayOf } from "../earth/calendar.ts";
import { offsetAt } from "../earth/zone.ts";
import type { NightChoice, NightShower } from "../evaluate/nights.ts";
import { nameOfCell } from "../methods/methods.ts";
import { dateText } from "../notation/date.ts";
import { minutesText } from "../notation/duration.ts";
import { sentences, told } from "../text/sentence.ts";
import { nightClock, nightInterval } from "./clock.ts";

const words = sentences("output.nights", {
	mon: "Mon",
	tue: "Tue",
	wed: "Wed",
	thu: "Thu",
	fri: "Fri",
	sat: "Sat",
	sun: "Sun",
	parts: "{when} in {parts} parts",
	back: "{said}, clocks go back",
	forward: "{said}, clocks go forward",
	alignOn: "align on {mark} at {time}",
	alignBy: "align by {method}",
	about: "{minutes}, Moon illumination {lit} %",
	notActive: "{shower}: not active",
	atPeak: "{shower}: peak",
	dayBefore: "{shower}: 1 day before the peak",
	daysBefore: "{shower}: {days} days before the peak",
	dayAfter: "{shower}: 1 day after the peak",
	daysAfter: "{shower}: {days} days after the peak",
	lowWater: "Low water is not known for other dates: look it up in the local tide table before you choose one.",
});

export const weekdayText = (date: CalendarDate): string => told(words[weekdayOf(date) satisfies Weekday]());

/** The first and the last usable minute; empty where there is none. */
export function usableText({ night, windows }: NightChoice): string {
	const [first, last] = [windows[0], windows.at(-1)];
	if (!first || !last) return "";
	const when = nightInterval(night, { from: first.from, until: last.until });
	const said = windows.length === 1 ? when : told(words.parts({ when, parts: windows.length }));
	const turned = offsetAt(night.zone, last.until) - offsetAt(night.zone, first.from);
	return turned === 0 ? said : told(words[turned > 0 ? "forward" : "back"]({ said }));
}

/** How near its peak a meteor shower is. */
function showerText({ name: shower, active, days: away }: NightShower): string {
	const days = Math.round(Math.abs(away));
	if (!active) return told(words.notActive({ shower }));
	if (days === 0) return told(words.atPeak({ shower }));
	if (days === 1) return told(words[away < 0 ? "dayBefore" : "dayAfter"]({ shower }));
	return told(words[away < 0 ? "daysBefore" : "daysAfter"]({ shower, days }));
}

/** The meteor showers that a night's targets are for; empty without. */
export const showersText = ({ showers }: NightChoice): string => showers.map(showerText).join(", ");

/** A night to choose: its date, what it is worth, and when and how. */
export function nightText(choice: NightChoice): {
	readonly label: string;
	readonly description: string;
	readonly detail: string;
} {
	const { date, night, minutes, method, marks } = choice;
	const [mark] = marks;
	const aligning = mark
		? told(words.alignOn({ mark: mark.name, time: nightClock(night, mark.at) }))
		: method?.kind
			? told(words.alignBy({ method: nameOfCell(method) }))
			: "";
	return {
		label: `${dateText(date)} ${weekdayText(date)}`,
		description: told(
			words.about({ minutes: minutesText(minutes), lit: (night.sky.moonIllumination * 100).toFixed(0) }),
		),
		detail: [usableText(choice), aligning, showersText(choice)].filter(Boolean).join("; "),
	};
}

/** What is said of all nights by the sea. */
export const lowWaterUnknown = (): string => told(words.lowWater());
