/** What follows from the night: the Sun's and the Moon's times, the stay, the dark. */

import type { CalendarDate } from "../../earth/calendar.ts";
import { addDays, clockOf, type EpochMs, instantOf, instantsOf } from "../../earth/zone.ts";
import { both, type Interval, longest, outside, totalMinutes } from "../../sky/intervals.ts";
import { type Night, nightOf, type TwilightName } from "../../sky/night.ts";
import type { NightContent } from "../kinds.ts";
import type { EvaluatedSite } from "../site/site.ts";
import { angleValue, numberValue, timeValue, type Value } from "../value.ts";

/** Degrees. */
export const DEFAULT_SUN_BELOW = 18;
const NOON = 43_200;

export interface EvaluatedNight {
	readonly content: NightContent;
	readonly zone: string;
	readonly date: CalendarDate;
	readonly sky: Night;
	/** From arriving to leaving; the whole night when the plan does not say, or says it the wrong way round. */
	readonly onSite: Interval;
	/** Stay and Sun low enough. */
	readonly dark: readonly Interval[];
	/** Of these, the times without too much Moon. */
	readonly moonless: readonly Interval[];
	/** Clock times that no clock shows that night, or shows twice, with the path of the key. */
	readonly instant: (secondsOfDay: number) => EpochMs;
}

/** Undefined while the date cannot be read, or lies outside the years the tables serve (1900–2100). */
export function evaluateNight(
	cell: NightContent | undefined,
	site: EvaluatedSite | undefined,
): EvaluatedNight | undefined {
	if (!site || cell?.date === undefined || !inTables(cell.date)) return undefined;
	const { date } = cell;
	const { zone, spot } = site;
	const instant = (secondsOfDay: number): EpochMs => instantOf(zone, dateOfClock(date, secondsOfDay), secondsOfDay);
	const span = { from: instantOf(zone, date, NOON), until: instantOf(zone, addDays(date, 1), NOON) };
	const sky = nightOf(spot, span, cell["sun-below"] ?? DEFAULT_SUN_BELOW);
	const arrive = cell.arrive === undefined ? span.from : instant(cell.arrive);
	const leave = cell.leave === undefined ? span.until : instant(cell.leave);
	const onSite = arrive < leave ? { from: arrive, until: leave } : span;
	const dark = both(sky.sunDark, [onSite]);
	const moonMatters = sky.moonIllumination * 100 > (cell["moon-allowed"] ?? 0);
	const moonless = moonMatters ? both(dark, outside(sky.moonUp, span)) : dark;
	return { content: cell, zone, date, sky, onSite, dark, moonless, instant };
}

/** Years for which the sky's tables are good enough to plan with. */
export const TABLE_YEARS = { from: 1900, until: 2100 } as const;
/** Whether a date lies in the years that the tables of the sky serve. */
export const inTables = ({ year }: CalendarDate): boolean => year >= TABLE_YEARS.from && year <= TABLE_YEARS.until;

/** Clock times from noon on belong to the evening's date, those before noon to the next. */
export const dateOfClock = (date: CalendarDate, secondsOfDay: number): CalendarDate =>
	secondsOfDay >= NOON ? date : addDays(date, 1);

/** How often a clock time is shown that night: 0, 1 or 2 times. */
export const timesShown = ({ zone, date }: EvaluatedNight, secondsOfDay: number): number =>
	instantsOf(zone, dateOfClock(date, secondsOfDay), secondsOfDay).length;

const TWILIGHT_LABELS: Readonly<Record<TwilightName, string>> = {
	sunset: "Sunset",
	"civil-dusk": "Civil dusk",
	"nautical-dusk": "Nautical dusk",
	"astronomical-dusk": "Astronomical dusk",
	"astronomical-dawn": "Astronomical dawn",
	"nautical-dawn": "Nautical dawn",
	"civil-dawn": "Civil dawn",
	sunrise: "Sunrise",
};

/** Figures of a night: the Sun's and the Moon's times, dark minutes. */
export function nightValues({ sky, zone, dark, moonless, onSite }: EvaluatedNight): readonly Value[] {
	const absent = sky.sunRange().lowest > -0.8333 ? "none: the Sun stays up" : "none tonight";
	const longestDark = longest(moonless);
	return [
		...(Object.keys(TWILIGHT_LABELS) as TwilightName[]).map((name) =>
			timeValue(
				{
					id: `night.${name}`,
					label: TWILIGHT_LABELS[name],
					how: name.startsWith("sun")
						? "Upper limb on a level horizon, 34′ of refraction (USNO's convention)."
						: "The Sun's centre at −6°, −12° or −18°, airless.",
					at: ["date", ""],
				},
				zone,
				sky.sun[name],
				absent,
			),
		),
		timeValue(
			{
				id: "night.moonrise",
				label: "Moonrise",
				how: "Upper limb on a level horizon, first after noon.",
				at: ["date", ""],
			},
			zone,
			sky.moonrise[0],
			"none tonight",
		),
		timeValue(
			{
				id: "night.moonset",
				label: "Moonset",
				how: "Upper limb on a level horizon, first after noon.",
				at: ["date", ""],
			},
			zone,
			sky.moonset[0],
			"none tonight",
		),
		numberValue(
			{
				id: "night.moon-illumination",
				label: "Moon's lit share",
				how: "Lit share of the disc in the middle of the night.",
				at: ["date", "moon-allowed", ""],
			},
			sky.moonIllumination * 100,
			"%",
			0,
		),
		numberValue(
			{
				id: "night.dark-minutes",
				label: "Dark during the stay",
				how: "Sun low enough, from arriving to leaving.",
				at: ["arrive", "leave", "sun-below", ""],
			},
			totalMinutes(dark),
			"min",
			0,
		),
		numberValue(
			{
				id: "night.moonless-minutes",
				label: "Dark without Moon during the stay",
				how: "Of these, the minutes with the Moon down, or dimmer than the plan allows.",
				at: ["arrive", "leave", "moon-allowed", ""],
			},
			totalMinutes(moonless),
			"min",
			0,
		),
		timeValue(
			{
				id: "night.dark-from",
				label: "Best dark from",
				how: "Start of the longest dark, moonless stretch of the stay.",
				at: ["arrive"],
			},
			zone,
			longestDark?.from,
		),
		timeValue(
			{
				id: "night.dark-until",
				label: "Best dark until",
				how: "End of the longest dark, moonless stretch of the stay.",
				at: ["leave"],
			},
			zone,
			longestDark?.until,
		),
		angleValue(
			{
				id: "night.sun-lowest",
				label: "Sun's lowest altitude",
				how: "Airless, over the night.",
				at: ["date", "sun-below"],
			},
			sky.sunRange().lowest,
		),
		timeValue({ id: "night.stay-from", label: "Stay from", how: "As the plan says.", at: [] }, zone, onSite.from),
		timeValue({ id: "night.stay-until", label: "Stay until", how: "As the plan says.", at: [] }, zone, onSite.until),
	];
}

/** `19:40–01:20`. */
export const intervalText = (zone: string, { from, until }: Interval): string =>
	`${clockOf(zone, from)}–${clockOf(zone, until)}`;
