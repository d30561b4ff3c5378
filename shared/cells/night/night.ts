/** What follows from the night: the Sun's and the Moon's times, the time on site, the dark. */

import type { CalendarDate } from "../../earth/calendar.ts";
import { addDays, type EpochMs, instantOf, instantsOf } from "../../earth/zone.ts";
import { Kept, KeptBy } from "../../memory/memory.ts";
import { both, type Interval, outside } from "../../sky/intervals.ts";
import { type Night, nightOf, sunAltitude } from "../../sky/night.ts";
import type { Spot } from "../../sky/place.ts";
import { whereAtLeastZero } from "../../sky/roots.ts";
import type { EvaluatedSite } from "../site/site.ts";
import type { NightContent } from "./keys.ts";

/** Degrees. */
export const DEFAULT_SUN_BELOW = 18;
/** Per cent: a thin crescent spoils nothing. Common practice, no source. */
export const DEFAULT_MOON_ALLOWED = 10;
const SUN_STEP_MS = 1_200_000;
const NOON = 43_200;

/** How dark it has to be, and when it is. */
export interface Darkness {
	/** How far the Sun is below the horizon, degrees. */
	readonly sunBelow: number;
	/** The Moon's illumination up to which it does not matter, per cent. */
	readonly moonAllowed: number;
	/** With the Sun low enough, on site or not. */
	readonly sunDark: readonly Interval[];
	/** On site, with the Sun low enough. */
	readonly dark: readonly Interval[];
	/** Of these, the times without too much Moon. */
	readonly moonless: readonly Interval[];
}

export interface EvaluatedNight extends Darkness {
	readonly content: NightContent;
	readonly zone: string;
	readonly date: CalendarDate;
	readonly sky: Night;
	/** From arriving to leaving; the whole night when the plan does not say, or says it the wrong way round. */
	readonly onSite: Interval;
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
	const sunBelow = cell["sun-below"] ?? DEFAULT_SUN_BELOW;
	const sky = nightOf(spot, span, sunBelow);
	const arrive = cell.arrive === undefined ? span.from : instant(cell.arrive);
	const leave = cell.leave === undefined ? span.until : instant(cell.leave);
	const onSite = arrive < leave ? { from: arrive, until: leave } : span;
	const darkness = darknessOf(sky, onSite, sunBelow, cell["moon-allowed"] ?? DEFAULT_MOON_ALLOWED, sky.sunDark);
	return { content: cell, zone, date, sky, onSite, ...darkness, instant };
}

function darknessOf(
	sky: Night,
	onSite: Interval,
	sunBelow: number,
	moonAllowed: number,
	sunDark: readonly Interval[],
): Darkness {
	const dark = both(sunDark, [onSite]);
	const moonMatters = sky.moonIllumination * 100 > moonAllowed;
	const moonless = moonMatters ? both(dark, outside(sky.moonUp, sky.span)) : dark;
	return { sunBelow, moonAllowed, sunDark, dark, moonless };
}

/** How dark it has to be for something that may ask for more or less than the night does. */
export function darknessFor(
	night: EvaluatedNight,
	spot: Spot,
	{
		"sun-below": sunBelow = night.sunBelow,
		"moon-allowed": moonAllowed = night.moonAllowed,
	}: Pick<NightContent, "sun-below" | "moon-allowed">,
): Darkness {
	if (sunBelow === night.sunBelow && moonAllowed === night.moonAllowed) return night;
	const { sky, onSite } = night;
	const sunDark =
		sunBelow === night.sunBelow
			? night.sunDark
			: whereAtLeastZero((at) => -sunBelow - sunAltitude(spot, at), sky.span, SUN_STEP_MS);
	return darknessOf(sky, onSite, sunBelow, moonAllowed, sunDark);
}

/** Whether one arrives, and leaves, at the clock times that the plan gives, which it may give the wrong way round. */
export const writtenStay = ({ content: { arrive, leave }, onSite, instant }: EvaluatedNight) => ({
	arrives: arrive !== undefined && onSite.from === instant(arrive),
	leaves: leave !== undefined && onSite.until === instant(leave),
});

/** Between high and low water where the tide comes twice a day: a quarter of the lunar day of 24 h 50.5 min. */
export const HIGH_TO_LOW_MS = (24 * 60 + 50.5) * 15_000;

/** When low water is that night, as the plan says. */
export const lowWaterOf = ({ content, instant }: EvaluatedNight): EpochMs | undefined =>
	content["low-water"] === undefined ? undefined : instant(content["low-water"]);

/** Years for which the sky's tables are good enough to plan with. */
export const TABLE_YEARS = { from: 1900, until: 2100 } as const;
/** Whether a date lies in the years that the tables of the sky serve. */
export const inTables = ({ year }: CalendarDate): boolean => year >= TABLE_YEARS.from && year <= TABLE_YEARS.until;

/** Clock times from noon on belong to the evening's date, those before noon to the next. */
export const dateOfClock = (date: CalendarDate, secondsOfDay: number): CalendarDate =>
	secondsOfDay >= NOON ? date : addDays(date, 1);

const KEPT_CLOCKS = 2000;
const shown = new KeptBy<EvaluatedNight, Kept<number, number>>();

/** How often a clock time is shown that night: 0, 1 or 2 times. */
export const timesShown = (night: EvaluatedNight, secondsOfDay: number): number =>
	shown
		.of(night, () => new Kept(KEPT_CLOCKS))
		.of(secondsOfDay, () => instantsOf(night.zone, dateOfClock(night.date, secondsOfDay), secondsOfDay).length);
