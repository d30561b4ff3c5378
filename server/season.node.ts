/** The nights of a season for a plan: what is compared, as data, and as the columns of a table. */
import { isByTheSea } from "../shared/cells/site/site.ts";
import type { CalendarDate, Weekday } from "../shared/earth/calendar.ts";
import { addDays, isoText } from "../shared/earth/zone.ts";
import { evaluate } from "../shared/evaluate/evaluate.ts";
import type { WantedFraming } from "../shared/evaluate/framings.ts";
import { bestOfWeeks, type NightChoice, nightsOf, ranked } from "../shared/evaluate/nights.ts";
import { check } from "../shared/findings/check.ts";
import { nameOfCell } from "../shared/methods/methods.ts";
import { dateText } from "../shared/notation/date.ts";
import { minutesText } from "../shared/notation/duration.ts";
import { nightClock } from "../shared/outputs/clock.ts";
import { showersText, usableText, weekdayText } from "../shared/outputs/nights.ts";
import { firstValue, isGroup, type Plan } from "../shared/plan/plan.ts";
import { listText } from "../shared/text/list.ts";
import { sentences, told } from "../shared/text/sentence.ts";
import { shown } from "../shared/text/shown.ts";
import { CannotRun } from "./files.node.ts";

const words = sentences("command.season", {
	markAt: "{mark} at {time} ({method})",
	neverDarkWhile: "it is never dark while you are on site",
	moonUpEvery: "the Moon is up in every dark hour on site",
	noTargetPlan: "no target of the plan is above the skyline while it is dark and moonless",
	noneFramed: "no target is framed in the way you asked for while it is dark and moonless",
	framed: "Counted only while {name} {ways}.",
	any: "a target",
	bearings: "is between bearings {from}° and {until}° (clockwise)",
	above: "is above {above}°",
	whole: "is whole from foot to foot",
	ground: "fits into a level frame with ground under it",
	notActive: "the meteor shower of the plan ({shower}) is not active on them",
	nothingToAlign: "nothing to align",
	ofEach: "each by their own plan",
	planErrors: "the plan has errors; see lodebook check",
	noMethodPlan: "no method of the plan works on any of them; lodebook check says why for the night in the plan",
});

/** Which nights are asked for. */
export interface AskedNights {
	readonly from?: CalendarDate | undefined;
	readonly until?: CalendarDate | undefined;
	readonly weekday?: ReadonlySet<Weekday> | undefined;
	/** How a target has to lie for the time to count. */
	readonly wanted?: WantedFraming | undefined;
	/** The first evening of a plan without a date. */
	readonly today: CalendarDate;
}

/** What is compared. */
export interface Season {
	/** By date. */
	readonly nights: readonly NightChoice[];
	/** That of the date that the plan has. */
	readonly present: NightChoice | undefined;
	readonly bySea: boolean;
	readonly wanted: WantedFraming | undefined;
	/** Whether the plan as it is has errors. */
	readonly hasErrors: () => boolean;
	/** Whether none of its targets is tracked: there is nothing to align for. */
	readonly untracked: boolean;
	/** Whether each of several is aligned by a plan of its own. */
	readonly ofGroup: boolean;
}

function chosenNight(plan: Plan, evening: CalendarDate, wanted: WantedFraming | undefined): NightChoice | undefined {
	const outcome = nightsOf(plan, evening, evening, undefined, wanted);
	return outcome.ok ? [...outcome.nights][0] : undefined;
}

/** `collect`: takes the nights one by one. Throws where they cannot be computed. */
export function seasonOf(
	path: string,
	plan: Plan,
	{ from, until, weekday, wanted, today }: AskedNights,
	collect: (nights: Iterable<NightChoice>, count: number) => readonly NightChoice[] = (nights) => [...nights],
): Season {
	const evaluation = evaluate(plan);
	const present = firstValue(plan, "night")?.date;
	const start = from ?? present ?? today;
	const outcome = nightsOf(plan, start, until ?? addDays(start, 364), weekday, wanted);
	if (!outcome.ok) throw new CannotRun(`${path}: ${told(outcome.why)}`);
	return {
		nights: collect(outcome.nights, outcome.count),
		present: present && chosenNight(plan, present, wanted),
		bySea: isByTheSea(evaluation.site),
		wanted,
		hasErrors: () => check(evaluation).some(({ severity }) => severity === "error"),
		untracked: [evaluation, ...(evaluation.group?.kits ?? []).map((kit) => kit.evaluation)].every((one) =>
			(one?.targets?.value ?? []).every((target) => target?.tracked === false),
		),
		ofGroup: isGroup(plan),
	};
}

export function nightsRecord({ nights, present }: Pick<Season, "nights" | "present">) {
	const ranks = new Map(ranked(nights).map((night, index) => [night, index + 1]));
	const best = new Set(bestOfWeeks(nights).best);
	return {
		nights: nights.map((choice) => ({
			...nightRecord(choice),
			bestOfNewMoonWeek: best.has(choice),
			rank: ranks.get(choice) ?? null,
		})),
		present: present ? { ...nightRecord(present), rank: rankOf(present, nights) } : null,
	};
}

function nightRecord({ date: evening, night, windows, targets, minutes, showers, method, aligns, marks }: NightChoice) {
	const iso = (at: number): string => isoText(night.zone, at);
	const [first, last] = [windows[0], windows.at(-1)];
	return {
		date: dateText(evening),
		weekday: weekdayText(evening),
		minutes,
		targets,
		first: first ? iso(first.from) : null,
		last: last ? iso(last.until) : null,
		windows: windows.map(({ from, until }) => ({ from: iso(from), until: iso(until) })),
		moonIllumination: night.sky.moonIllumination * 100,
		guideStars: marks.map(({ name, at, direction, miss }) => ({
			name,
			at: iso(at),
			altitude: direction?.altitude ?? null,
			bearing: direction?.azimuth ?? null,
			miss: miss ?? null,
		})),
		showers: showers.map(({ name, active, days }) => ({ name, active, daysFromPeak: days })),
		method: method?.kind ?? null,
		aligns,
	};
}

/** Which place a night has among others, from 1. */
export const rankOf = (one: NightChoice, nights: readonly NightChoice[]): number =>
	ranked([...nights.filter(({ date: evening }) => dateText(evening) !== dateText(one.date)), one]).indexOf(one) + 1;

export function nightColumns(
	choice: NightChoice,
	{ untracked, ofGroup }: Pick<Season, "untracked" | "ofGroup">,
): readonly string[] {
	const { date: evening, night, minutes, method, marks } = choice;
	const mark = marks[0];
	const aligning =
		mark === undefined
			? method === undefined && untracked
				? told(words.nothingToAlign())
				: ofGroup
					? told(words.ofEach())
					: nameOfCell(method)
			: told(words.markAt({ mark: mark.name, time: nightClock(night, mark.at), method: nameOfCell(method) }));
	return [
		`${dateText(evening)} ${weekdayText(evening)}`,
		minutesText(minutes),
		usableText(choice),
		`${(night.sky.moonIllumination * 100).toFixed(0)} %`,
		shown(aligning),
		showersText(choice),
	];
}

/** Which time counts; empty where all of it does. */
export function framedText({ wanted }: Season): string {
	if (!wanted) return "";
	const { target, bearings, above, wholeArch, withGround } = wanted;
	const ways = [
		...(bearings ? [words.bearings({ from: bearings[0], until: bearings[1] })] : []),
		...(above === undefined ? [] : [words.above({ above })]),
		...(wholeArch ? [words.whole()] : []),
		...(withGround ? [words.ground()] : []),
	].map(told);
	return ways.length === 0
		? ""
		: told(words.framed({ name: target === undefined ? [words.any()] : shown(target), ways: listText(ways) }));
}

export function whyNone({ nights, wanted, hasErrors }: Season): string {
	const isInactive = (shower: string): boolean =>
		nights.every(
			({ windows, showers }) =>
				windows.length === 0 && showers.some(({ name, active, counts }) => name === shower && counts && !active),
		);
	const never = nights[0]?.showers.find(({ name }) => isInactive(name));
	if (never) return told(words.notActive({ shower: never.name }));
	if (nights.every(({ night }) => night.dark.length === 0)) return told(words.neverDarkWhile());
	if (nights.every(({ night }) => night.moonless.length === 0)) return told(words.moonUpEvery());
	if (nights.every(({ windows }) => windows.length === 0))
		return told(wanted ? words.noneFramed() : hasErrors() ? words.planErrors() : words.noTargetPlan());
	return told(words.noMethodPlan());
}
