/**
 * The nights of a season for one plan: how long each serves, when, and with which star to align. The plan's date and
 * its clock times of the method and the targets do not count; its site, stay, darkness, Moon, method and targets do.
 */
import { aimPoint } from "../alignment/pointer.ts";
import type { MethodContent, TargetEntry, TrackerContent } from "../cells/kinds.ts";
import { evaluateLens } from "../cells/lens/lens.ts";
import { NO_TRACKER, tonightOf } from "../cells/method/method.ts";
import { type EvaluatedNight, evaluateNight, inTables } from "../cells/night/night.ts";
import { evaluateSite, fieldOf, sightLandmarks } from "../cells/site/site.ts";
import { placeTarget } from "../cells/targets/target.ts";
import type { CalendarDate } from "../earth/calendar.ts";
import { addDays, type EpochMs } from "../earth/zone.ts";
import type { Tonight } from "../methods/method.ts";
import { METHODS } from "../methods/methods.ts";
import { sweepPairs } from "../methods/other-marks.ts";
import { guideStars } from "../methods/square-laser/guide-stars.ts";
import { DEFAULT_OFFSET, DEFAULT_REACH } from "../methods/square-laser/square-laser.ts";
import { cellsOf, firstValue, type Plan } from "../plan/plan.ts";
import type { Direction } from "../sky/horizontal.ts";
import { either, type Interval, totalMinutes } from "../sky/intervals.ts";

/** A star, body or pair to align with that night. */
export interface NightMark {
	readonly name: string;
	readonly at: EpochMs;
	/** Where it is seen then; undefined for a pair. */
	readonly direction: Direction | undefined;
	/** Degrees from the aim point; undefined where nothing is aimed at it. */
	readonly miss: number | undefined;
}

export interface NightChoice {
	readonly date: CalendarDate;
	readonly night: EvaluatedNight;
	/** Dark, without too much Moon, during the stay, and a target of the sky above the skyline and in its opening. */
	readonly windows: readonly Interval[];
	/** Of `windows`, in sum; 0 when no method of the plan serves that night. */
	readonly minutes: number;
	/** The first method of the plan that serves that night; undefined when none does, or the plan has none. */
	readonly method: MethodContent | undefined;
	/** Whether a method serves, or the plan has none. */
	readonly aligns: boolean;
	/** The best first. */
	readonly marks: readonly NightMark[];
}

/** At most this many nights are searched at once. */
export const MOST_NIGHTS = 3700;
const MOST_MARKS = 5;
const DAY_MS = 86_400_000;

export type NightsOutcome =
	| { readonly ok: true; readonly nights: Iterable<NightChoice>; readonly count: number }
	| { readonly ok: false; readonly message: string };

const dayNumber = ({ year, month, day }: CalendarDate): number => Math.round(Date.UTC(year, month - 1, day) / DAY_MS);

/**
 * Every night from one date to another, both included, in order. Each is reckoned when it is taken from the iterable,
 * so that a caller can show how far it is, or stop.
 */
export function nightsOf(plan: Plan, from: CalendarDate, until: CalendarDate): NightsOutcome {
	const site = evaluateSite(firstValue(plan, "site"));
	if (!site) return { ok: false, message: "the site's latitude and longitude are needed" };
	const count = dayNumber(until) - dayNumber(from) + 1;
	if (count < 1) return { ok: false, message: "the last night is before the first" };
	if (count > MOST_NIGHTS)
		return { ok: false, message: `${count} nights are too many at once: at most ${MOST_NIGHTS}` };
	if (!inTables(from) || !inTables(until))
		return { ok: false, message: "the tables of the sky serve the years 1900 to 2100" };
	const cell = firstValue(plan, "night") ?? {};
	const lenses = cellsOf(plan, "lens").flatMap(({ read }) => evaluateLens(read.content) ?? []);
	const tracker: TrackerContent = firstValue(plan, "tracker") ?? NO_TRACKER;
	const methods = cellsOf(plan, "method").flatMap(({ read }): MethodContent[] =>
		read.content ? [withoutClock(read.content)] : [],
	);
	const targets = (firstValue(plan, "targets") ?? []).map(ofTheSky);
	// The field changes by some 0.1° in a year and no window follows from it: once is enough.
	const field = fieldOf(site, (dayNumber(from) + count / 2) * DAY_MS);
	const landmarks = sightLandmarks(site, field);

	const choose = (date: CalendarDate): NightChoice | undefined => {
		const night = evaluateNight({ ...cell, date }, site);
		if (!night) return undefined;
		const evaluated = targets.flatMap((entry, index) => {
			const lens = lenses.find(({ name }) => name === entry.lens) ?? lenses[0];
			const target = placeTarget(entry, index, site, night, lens, tracker, field);
			return target && !target.fixed ? [target] : [];
		});
		const windows = evaluated.length === 0 ? night.moonless : evaluated.map(({ usable }) => usable).reduce(either);
		const tonight = tonightOf(site, night, field, landmarks, tracker, lenses[0]);
		let method: MethodContent | undefined;
		let marks: readonly NightMark[] = [];
		// Without a dark minute there is nothing to align for.
		for (const one of windows.length === 0 ? [] : methods) {
			const found = marksBefore(one, tonight, windows) ?? marksFor(one, tonight);
			if (!found) continue;
			method = one;
			marks = found;
			break;
		}
		const aligns = methods.length === 0 || method !== undefined;
		return { date, night, windows, minutes: aligns ? totalMinutes(windows) : 0, method, aligns, marks };
	};

	return {
		ok: true,
		count,
		nights: (function* () {
			for (let day = 0; day < count; day++) {
				const choice = choose(addDays(from, day));
				if (choice) yield choice;
			}
		})(),
	};
}

/** A method's clock time belongs to its own date; another night has its own best time. */
function withoutClock({ at: _, ...method }: MethodContent): MethodContent {
	return method;
}

function ofTheSky({ from: _, at: __, ...entry }: TargetEntry): TargetEntry {
	return entry;
}

/** How far into the usable time the alignment may still be. */
const ALIGN_WITHIN_MS = 3_600_000;

/** Marks of a method that is done before the frames or in their first hour; a laser's star has its own moment. */
function marksBefore(
	method: MethodContent,
	tonight: Tonight,
	[first]: readonly Interval[],
): readonly NightMark[] | undefined {
	if (!first || method.kind === "square-laser") return undefined;
	const until = Math.min(tonight.onSite.until, first.from + ALIGN_WITHIN_MS);
	return until > tonight.onSite.from
		? marksFor(method, { ...tonight, onSite: { from: tonight.onSite.from, until } })
		: undefined;
}

/** What a method aims at that night; undefined when it cannot work. */
function marksFor(method: MethodContent, tonight: Tonight): readonly NightMark[] | undefined {
	if (!method.kind) return undefined;
	const offset = method.offset ?? DEFAULT_OFFSET;
	const reach = method.reach ?? DEFAULT_REACH;
	if (method.kind === "square-laser") {
		const aim = aimPoint(tonight.spot.latitude, offset);
		const stars = guideStars(aim, tonight, { reach, most: MOST_MARKS });
		return stars.length === 0
			? undefined
			: stars.map(({ star, best, direction, miss }) => ({ name: star.name, at: best, direction, miss }));
	}
	if (method.kind === "star-sweep" && !method.stars) {
		const pairs = sweepPairs(method, tonight, offset, reach).slice(0, MOST_MARKS);
		return pairs.length === 0
			? undefined
			: pairs.map(({ names, at }) => ({ name: names.join(" and "), at, direction: undefined, miss: undefined }));
	}
	const { obstacles, windows, at, setUp } = METHODS[method.kind].plan(method, tonight);
	if (obstacles.length > 0 || windows.length === 0) return undefined;
	const [mark] = setUp.marks ?? [];
	return mark && at !== undefined ? [{ name: mark.name, at, direction: mark.direction, miss: setUp.miss?.total }] : [];
}

/** The best first: more minutes, then less Moon, then the earlier night. */
export function ranked(nights: readonly NightChoice[]): readonly NightChoice[] {
	return [...nights].sort(
		(a, b) =>
			Math.round(b.minutes) - Math.round(a.minutes) ||
			a.night.sky.moonIllumination - b.night.sky.moonIllumination ||
			dayNumber(a.date) - dayNumber(b.date),
	);
}
