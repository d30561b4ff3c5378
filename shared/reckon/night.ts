/** What follows from the night: the Sun's and the Moon's times, the stay, the dark. */

import { addDays, clockOf, type EpochMs, instantOf, instantsOf } from "../earth/zone.ts";
import { angleFigure, type Figure, numberFigure, timeFigure } from "../figure.ts";
import type { NightCell } from "../plan/cells.ts";
import type { CalendarDate } from "../plan/clock.ts";
import { both, type Interval, longest, outside, totalMinutes } from "../sky/intervals.ts";
import { type Night, nightOf, type TwilightName } from "../sky/night.ts";
import type { SiteReckoning } from "./site.ts";

/** Degrees. */
export const DEFAULT_SUN_BELOW = 18;
const NOON = 43_200;

export interface NightReckoning {
	readonly cell: NightCell;
	readonly zone: string;
	readonly date: CalendarDate;
	readonly sky: Night;
	/** From arriving to leaving; the whole night when the plan does not say, or says it the wrong way round. */
	readonly stay: Interval;
	/** Stay and Sun low enough. */
	readonly dark: readonly Interval[];
	/** Of these, the times without too much Moon. */
	readonly moonless: readonly Interval[];
	/** Clock times that no clock shows that night, or shows twice, with the path of the key. */
	readonly instant: (secondsOfDay: number) => EpochMs;
}

/** Undefined while the date cannot be read, or lies outside the years the tables serve (1900–2100). */
export function reckonNight(cell: NightCell | undefined, site: SiteReckoning | undefined): NightReckoning | undefined {
	if (!site || cell?.date === undefined || !inTables(cell.date)) return undefined;
	const { date } = cell;
	const { zone, stand } = site;
	const instant = (secondsOfDay: number): EpochMs => instantOf(zone, dateOfClock(date, secondsOfDay), secondsOfDay);
	const span = { from: instantOf(zone, date, NOON), until: instantOf(zone, addDays(date, 1), NOON) };
	const sky = nightOf(stand, span, cell["sun-below"] ?? DEFAULT_SUN_BELOW);
	const arrive = cell.arrive === undefined ? span.from : instant(cell.arrive);
	const leave = cell.leave === undefined ? span.until : instant(cell.leave);
	const stay = arrive < leave ? { from: arrive, until: leave } : span;
	const dark = both(sky.sunDark, [stay]);
	const moonMatters = sky.moonIllumination * 100 > (cell["moon-allowed"] ?? 0);
	const moonless = moonMatters ? both(dark, outside(sky.moonUp, span)) : dark;
	return { cell, zone, date, sky, stay, dark, moonless, instant };
}

/** Years for which the sky's tables are good enough to plan with. */
export const TABLE_YEARS = { from: 1900, until: 2100 } as const;
/** Whether a date lies in the years that the tables of the sky serve. */
export const inTables = ({ year }: CalendarDate): boolean => year >= TABLE_YEARS.from && year <= TABLE_YEARS.until;

/** Clock times from noon on belong to the evening's date, those before noon to the next. */
export const dateOfClock = (date: CalendarDate, secondsOfDay: number): CalendarDate =>
	secondsOfDay >= NOON ? date : addDays(date, 1);

/** How often a clock time is shown that night: 0, 1 or 2 times. */
export const timesShown = ({ zone, date }: NightReckoning, secondsOfDay: number): number =>
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
export function nightFigures({ sky, zone, dark, moonless, stay }: NightReckoning): readonly Figure[] {
	const absent = sky.sunRange().lowest > -0.8333 ? "none: the Sun stays up" : "none tonight";
	const longestDark = longest(moonless);
	return [
		...(Object.keys(TWILIGHT_LABELS) as TwilightName[]).map((name) =>
			timeFigure(
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
		timeFigure(
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
		timeFigure(
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
		numberFigure(
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
		numberFigure(
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
		numberFigure(
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
		timeFigure(
			{
				id: "night.dark-from",
				label: "Best dark from",
				how: "Start of the longest dark, moonless stretch of the stay.",
				at: ["arrive"],
			},
			zone,
			longestDark?.from,
		),
		timeFigure(
			{
				id: "night.dark-until",
				label: "Best dark until",
				how: "End of the longest dark, moonless stretch of the stay.",
				at: ["leave"],
			},
			zone,
			longestDark?.until,
		),
		angleFigure(
			{
				id: "night.sun-lowest",
				label: "Sun's lowest altitude",
				how: "Airless, over the night.",
				at: ["date", "sun-below"],
			},
			sky.sunRange().lowest,
		),
		timeFigure({ id: "night.stay-from", label: "Stay from", how: "As the plan says.", at: [] }, zone, stay.from),
		timeFigure({ id: "night.stay-until", label: "Stay until", how: "As the plan says.", at: [] }, zone, stay.until),
	];
}

/** `19:40–01:20`. */
export const intervalText = (zone: string, { from, until }: Interval): string =>
	`${clockOf(zone, from)}–${clockOf(zone, until)}`;
