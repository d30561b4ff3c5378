/**
 * The nights of a season for one plan: how long each is usable, when, and with what to align. The plan's date and its
 * clock times of the method and the targets do not count; its site, time on site, darkness, Moon, method and targets do.
 * Each night is the plan itself, evaluated on another date.
 */
import type { EvaluatedNight } from "../cells/night/night.ts";
import { inTables } from "../cells/night/night.ts";
import type { TargetEntry } from "../cells/targets/keys.ts";
import { type PlacedTarget, targetName } from "../cells/targets/target.ts";
import { type CalendarDate, dayNumber, type Weekday, weekdayOf } from "../earth/calendar.ts";
import { addDays, type EpochMs } from "../earth/zone.ts";
import { doneAt } from "../methods/before-frames.ts";
import type { Candidate } from "../methods/method.ts";
import { type MethodContent, methodOf } from "../methods/methods.ts";
import { type Tonight, withDue } from "../methods/tonight.ts";
import { type Cell, firstValue, type Plan } from "../plan/plan.ts";
import type { ReadCell } from "../plan/read.ts";
import type { Direction } from "../sky/horizontal.ts";
import { both, either, type Interval, totalMinutes } from "../sky/intervals.ts";
import { lunationOf } from "../sky/lunation.ts";
import { type Phrase, sentences } from "../text/sentence.ts";
import { createEvaluator } from "./evaluate.ts";
import { framedAsWanted, type WantedFraming } from "./framings.ts";
import { type Listed, minutesOf, mostLeftFirst, ofTheSky, onFrom, whatFor } from "./most-left.ts";

const words = sentences("nights", {
	noPlace: "the site needs a latitude and longitude",
	backwards: "the last night is before the first",
	tooMany: "{count} nights are too many at once; the limit is {most}",
	noSuchTarget: "no target of the plan is called {name}",
	noArch: "no target of the plan is the Milky Way's arch (`aim: milky-way-arch`)",
	outsideTables: "the sky is computed for the years 1900 to 2100",
});

/** What a method aims at on a night. */
export interface NightMark {
	readonly name: string;
	readonly at: EpochMs;
	readonly direction: Direction | undefined;
	/** Degrees from where it should be, where that is known. */
	readonly miss: number | undefined;
	/** Keys of the method's cell that take it, as they are written; none where the cell names it already. */
	readonly keys: Candidate["keys"];
}

/** A meteor shower on a night. */
export interface NightShower {
	readonly name: string;
	readonly active: boolean;
	/** Days from the peak that is nearest; below zero: before it. */
	readonly days: number;
	/** Whether a target that counts is for it. */
	readonly counts: boolean;
}

export interface NightChoice {
	/** The evening's date. */
	readonly date: CalendarDate;
	readonly night: EvaluatedNight;
	/** Usable times: dark, with no more Moon than the plan allows, on site, with one of `targets` above the skyline and in its opening, from the end of the alignment on. */
	readonly windows: readonly Interval[];
	/** Names of the targets that count: the tracked ones where there are any, else those of the sky; and those for a shower. */
	readonly targets: readonly string[];
	/** Of `windows`, in sum; 0 when no method of the plan works that night. */
	readonly minutes: number;
	/** The same as nights are ranked by it: fewer the further a meteor shower is from its peak. */
	readonly worth: number;
	/** Meteor showers of the plan's targets, each once: a target whose shower is not active is not usable. */
	readonly showers: readonly NightShower[];
	/** The first method of the plan that works that night; undefined when none does, or the plan has none. */
	readonly method: MethodContent | undefined;
	/** Place of its cell in the plan. */
	readonly cell: number | undefined;
	/** Whether a method works, or the plan has none. */
	readonly aligns: boolean;
	/** Those that leave most minutes first, the best of equals before others. */
	readonly marks: readonly NightMark[];
}

/** At most this many nights are searched at once. */
export const MOST_NIGHTS = 3700;
const MOST_MARKS = 5;
/** Marks of which those are the ones that leave most frames. */
const MOST_LOOKED_AT = 30;

export type NightsOutcome =
	| { readonly ok: true; readonly nights: Iterable<NightChoice>; readonly count: number }
	| { readonly ok: false; readonly why: Phrase };

/**
 * Every night from one date to another, both included, in order; only those of some weekdays, and of each only the time
 * in which a target is framed as it is wanted, where these are given. Each is evaluated when it is taken from the iterable,
 * so that a caller can show how far it is, or stop.
 */
export function nightsOf(
	plan: Plan,
	from: CalendarDate,
	until: CalendarDate,
	weekdays?: ReadonlySet<Weekday>,
	wanted?: WantedFraming,
): NightsOutcome {
	if (!createEvaluator()(plan).site) return { ok: false, why: words.noPlace() };
	const count = dayNumber(until) - dayNumber(from) + 1;
	if (count < 1) return { ok: false, why: words.backwards() };
	if (count > MOST_NIGHTS) return { ok: false, why: words.tooMany({ count, most: MOST_NIGHTS }) };
	if (!inTables(from) || !inTables(until)) return { ok: false, why: words.outsideTables() };
	const kits = kitsOf(plan);
	const having = kits.filter((kit) => wanted?.target === undefined || namesIn(kit).includes(wanted.target));
	if (wanted?.target !== undefined && having.length === 0)
		return { ok: false, why: words.noSuchTarget({ name: wanted.target }) };
	if (
		wanted?.wholeArch &&
		!kits.some((kit) => (firstValue(kit, "targets") ?? []).some(({ aim }) => aim === "milky-way-arch"))
	)
		return { ok: false, why: words.noArch() };
	const choosers = having.map((kit) => chooserOf(kit, wanted));
	const choose = (date: CalendarDate): NightChoice | undefined =>
		together(choosers.flatMap((chooser) => chooser(date) ?? []));
	const dates = Array.from({ length: count }, (_, day) => addDays(from, day)).filter(
		(date) => weekdays?.has(weekdayOf(date)) ?? true,
	);
	return {
		ok: true,
		count: dates.length,
		nights: (function* () {
			for (const date of dates) {
				const choice = choose(date);
				if (choice) yield choice;
			}
		})(),
	};
}

/** The plans that a night is chosen for: of a group those of its kits, on its site. */
function kitsOf(plan: Plan): readonly Plan[] {
	const kits = (plan.group ?? []).flatMap((member) => member.plan ?? []);
	return kits.length > 0 ? kits : [plan];
}

const namesIn = (plan: Plan): readonly string[] => (firstValue(plan, "targets") ?? []).map(targetName);

/** A night as a group has it: the time that all of its kits can use, each with its own method. */
function together(choices: readonly NightChoice[]): NightChoice | undefined {
	const [first, ...others] = choices;
	if (!first || others.length === 0) return first;
	const windows = choices.map((one) => one.windows).reduce(both);
	const aligns = choices.every((one) => one.aligns);
	const minutes = aligns ? totalMinutes(windows) : 0;
	const showers = new Map(choices.flatMap((one) => one.showers).map((one) => [one.name, one]));
	return {
		...first,
		windows,
		minutes,
		worth: minutes * Math.min(...choices.map((one) => (one.minutes === 0 ? 1 : one.worth / one.minutes))),
		targets: [...new Set(choices.flatMap((one) => one.targets))],
		showers: [...showers.values()],
		method: undefined,
		cell: undefined,
		aligns,
		marks: [],
	};
}

/** Each night of one plan. */
function chooserOf(plan: Plan, wanted: WantedFraming | undefined): (date: CalendarDate) => NightChoice | undefined {
	const evaluateNext = createEvaluator();
	const names = namesIn(plan);
	const onDate = onAnyDate(plan);
	return (date) => {
		const { night, tonight, placed, plan: thatNight } = evaluateNext(onDate(date));
		if (!night || !tonight) return undefined;
		const sky = ofTheSky(placed?.value ?? []);
		const alignedFor =
			wanted?.target === undefined ? whatFor(sky) : sky.filter(({ index }) => names[index] === wanted.target);
		// A shower has its few nights, tracked or not: one that is in the plan is what the night is for too.
		const beside =
			wanted?.target === undefined
				? sky.filter((one) => one.target.shower !== undefined && !alignedFor.includes(one))
				: [];
		const targets = sky.filter((one) => alignedFor.includes(one) || beside.includes(one));
		const usableOf = (target: PlacedTarget): readonly Interval[] =>
			nearnessOf(target) === 0 ? [] : wanted ? framedAsWanted(target, wanted, tonight.spot) : target.usable;
		const entries = firstValue(thatNight, "targets") ?? [];
		let windows =
			alignedFor.length === 0
				? wanted
					? []
					: night.moonless
				: alignedFor.map(({ target }) => usableOf(target)).reduce(either);
		const methods = thatNight.cells.flatMap(({ read, index }) =>
			read.kind === "method" && read.content ? [{ content: read.content, index }] : [],
		);
		let method: MethodContent | undefined;
		let cell: number | undefined;
		let marks: readonly NightMark[] = [];
		// Without a dark minute there is nothing to align for.
		for (const { content: one, index } of windows.length === 0 ? [] : methods) {
			const found = marksBefore(one, tonight, windows) ?? marksFor(one, tonight);
			if (!found) continue;
			method = one;
			cell = index;
			const left = mostLeftFirst(found, windows, one, tonight);
			marks = left.slice(0, MOST_MARKS);
			windows = onFrom(windows, left[0] ? doneWith(one, left[0].at) : doneAnytime(one, tonight));
			break;
		}
		const aligns = methods.length === 0 || method !== undefined;
		// What is not tracked needs no alignment.
		const unaligned = new Set(beside.map(({ target }) => target));
		const whenUsable = (target: PlacedTarget): readonly Interval[] =>
			unaligned.has(target) ? usableOf(target) : both(usableOf(target), windows);
		const counted = beside.map(({ target }) => usableOf(target)).reduce(either, windows);
		const minutes = aligns ? totalMinutes(counted) : 0;
		return {
			date,
			night,
			windows: counted,
			targets: targets.map(({ index }) => targetName(entries[index] ?? {}, index)),
			minutes,
			worth: !aligns ? 0 : targets.length === 0 ? minutes : worthOf(targets, whenUsable),
			showers: showersOf(sky, targets),
			method,
			cell,
			aligns,
			marks,
		};
	};
}

/**
 * How near the peak of its meteor shower a target is taken: 1 at the peak, less by as much each day, and nothing when the
 * shower is not active (common practice, no source: how fast it falls off differs from shower to shower). 1 without one.
 */
function nearnessOf({ shower: named }: PlacedTarget): number {
	if (!named) return 1;
	if (!named.active()) return 0;
	const { shower, days } = named;
	const away = days();
	return 1 - Math.abs(away) / ((away > 0 ? shower.after : shower.before) + 1);
}

/**
 * What a night is worth in minutes: the mean of what it is for the showers of a plan and for all else that counts, where a
 * plan has both (common practice, no source: whoever plans both wants both).
 */
function worthOf(targets: Listed, whenUsable: (target: PlacedTarget) => readonly Interval[]): number {
	const [forShowers, others] = [true, false].map((isFor) =>
		targets.flatMap(({ target }) => ((target.shower !== undefined) === isFor ? [target] : [])),
	) as [PlacedTarget[], PlacedTarget[]];
	const parts = [forShowers, others].flatMap((part) =>
		part.length === 0
			? []
			: [totalMinutes(part.map(whenUsable).reduce(either)) * Math.max(...part.map((target) => nearnessOf(target)))],
	);
	return parts.reduce((sum, part) => sum + part, 0) / parts.length;
}

function showersOf(all: Listed, counted: Listed): readonly NightShower[] {
	const found = new Map<string, NightShower>();
	// Those that count come first.
	for (const { target } of [...counted, ...all]) {
		const { shower: named } = target;
		if (!named || found.has(named.shower.name)) continue;
		const counts = counted.some((one) => one.target === target);
		found.set(named.shower.name, { name: named.shower.name, active: named.active(), days: named.days(), counts });
	}
	return [...found.values()];
}

/**
 * The plan on other dates: the night's date replaced, clock times of methods and targets left out, since they belong to
 * its own date. A plan without a night cell gets one.
 */
export function onAnyDate(plan: Plan): (date: CalendarDate) => Plan {
	const timeless = plan.cells.map((cell): Cell => {
		const { read } = cell;
		if (read.kind === "method" && read.content) return withContent(cell, withoutClock(read.content));
		if (read.kind === "targets" && read.content) return withContent(cell, read.content.map(withoutTime));
		return cell;
	});
	const index = timeless.findIndex(({ read }) => read.kind === "night");
	const own = timeless[index];
	const empty: Cell = {
		index: timeless.length,
		start: plan.text.length,
		end: plan.text.length,
		text: "",
		read: { kind: "night", content: {}, places: new Map(), problems: [] },
	};
	return (date) => {
		const night = own ?? empty;
		const dated = withContent(night, { ...(night.read.content as object | undefined), date });
		return { ...plan, cells: own ? timeless.with(index, dated) : [...timeless, dated] };
	};
}

/** The cell with other content. */
export const withContent = (cell: Cell, content: unknown): Cell => ({
	...cell,
	read: { ...cell.read, content } as ReadCell,
});

/** The method at any time. */
export function withoutClock({ at: _, ...method }: MethodContent): MethodContent {
	return method;
}

/** The target at any time; a composition stays, since it comes back on another date. */
export function withoutTime({ from: _, at, ...entry }: TargetEntry): TargetEntry {
	return typeof at === "object" ? { ...entry, at } : entry;
}

/** When a method is done that is worked with a mark at a moment, and one that needs none. */
const doneWith = (content: MethodContent, at: EpochMs): EpochMs => doneAt(at, minutesOf(content));
const doneAnytime = (content: MethodContent, { ready }: Tonight): EpochMs => ready + minutesOf(content) * 60_000;

/**
 * Marks of a method that is done before the frames can begin, or as soon after that as it works: what it may be done at is
 * the plan's to choose, and minutes of the dark are what a night is compared by. Not of one whose mark has a moment of its
 * own: all of these are found, and those that leave most come first.
 */
function marksBefore(
	content: MethodContent,
	tonight: Tonight,
	[first]: readonly Interval[],
): readonly NightMark[] | undefined {
	if (!first || !content.kind) return undefined;
	const { search, setUp } = methodOf(content.kind);
	if (search?.momentary) return undefined;
	const inTime = withDue(tonight, first.from);
	const early = marksFor(content, inTime);
	const [mark] = early ?? [];
	const half = minutesOf(content) * tonight.pace * 30_000;
	if (!mark || mark.at + half <= first.from) return early;
	const moments = setUp({ ...content, ...mark.keys } as MethodContent, inTime).windows.flatMap(({ from, until }) => {
		const at = Math.max(from, tonight.ready + half);
		return at <= until ? [at] : [];
	});
	return moments.length === 0 ? early : marksFor(content, withDue(tonight, Math.min(...moments) + half));
}

/** What a method aims at that night; undefined when it cannot work. */
export function marksFor(content: MethodContent, tonight: Tonight): readonly NightMark[] | undefined {
	if (!content.kind) return undefined;
	const { search, setUp } = methodOf(content.kind);
	if (search && (search.momentary || (search.fills && content[search.key as keyof MethodContent] === undefined))) {
		const found = search.find(content, tonight, { most: MOST_LOOKED_AT, twilight: false });
		return found.length === 0 ? undefined : found;
	}
	const { obstacles, windows, at, marks, markMiss } = setUp(content, tonight);
	if (obstacles.length > 0 || windows.length === 0) return undefined;
	const [mark] = marks;
	return mark && at !== undefined ? [{ name: mark.name, at, direction: mark.direction, miss: markMiss, keys: {} }] : [];
}

/** The number of the new Moon that a night is nearest to. */
export const newMoonOf = ({ night }: NightChoice): number =>
	lunationOf((night.sky.span.from + night.sky.span.until) / 2);

/** A night with fewer usable minutes than this is none. */
export const USABLE_MINUTES = 1;

/**
 * For less than half an hour nobody walks out, unless the season has little more: then for a quarter of what its best
 * night has (common practice, no source). A night with less is not called the best of its week.
 */
export const WORTH_GOING = 30;
const OF_THE_BEST = 0.25;

/** From half Moon to half Moon: with more of it lit a night is of no new-moon week, however little else there is to choose from. */
const NEW_MOON_WEEK_LIT = 0.5;

/**
 * The best night of each new-moon week first, then all others; both by rank. Nights without a usable minute are left out,
 * and a week in which no night is worth going has no best.
 */
export function bestOfWeeks(nights: readonly NightChoice[]): {
	readonly best: readonly NightChoice[];
	readonly others: readonly NightChoice[];
} {
	const weeks = new Set<number>();
	const [best, others]: [NightChoice[], NightChoice[]] = [[], []];
	const enough = Math.min(WORTH_GOING, OF_THE_BEST * Math.max(0, ...nights.map(({ minutes }) => minutes)));
	for (const night of ranked(nights)) {
		if (night.minutes < USABLE_MINUTES) continue;
		const isBest =
			night.minutes >= enough && night.night.sky.moonIllumination < NEW_MOON_WEEK_LIT && !weeks.has(newMoonOf(night));
		if (isBest) weeks.add(newMoonOf(night));
		(isBest ? best : others).push(night);
	}
	return { best, others };
}

/** The best first: more minutes, of a meteor shower nearer its peak, then less Moon, then the earlier night. */
export function ranked(nights: readonly NightChoice[]): readonly NightChoice[] {
	return [...nights].sort(
		(a, b) =>
			Math.round(b.worth) - Math.round(a.worth) ||
			a.night.sky.moonIllumination - b.night.sky.moonIllumination ||
			dayNumber(a.date) - dayNumber(b.date),
	);
}
