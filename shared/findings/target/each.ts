/** The targets of a plan that could be evaluated, with their cell, and the fixes that several rules offer for them. */

import type { EvaluatedNight } from "../../cells/night/night.ts";
import { clockOfEntry } from "../../cells/targets/composition.ts";
import type { EvaluatedTarget } from "../../cells/targets/target.ts";
import { type EpochMs, minuteDown, minuteUp, wallClock } from "../../earth/zone.ts";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import { KeptBy } from "../../memory/memory.ts";
import { clockText } from "../../notation/clock.ts";
import { longestText, minutesText } from "../../notation/duration.ts";
import { type Dated, exactNightClock, nightClock, nightInterval } from "../../notation/night-clock.ts";
import type { Cell, Plan } from "../../plan/plan.ts";
import { both, type Interval, outside, totalMinutes, withWholeMinutes } from "../../sky/intervals.ts";
import { type Phrase, sentences } from "../../text/sentence.ts";
import { type Fix, fix, replaceValue } from "../finding.ts";
import { settableText } from "./settable.ts";

const words = sentences("target", {
	never: "never while you are on site",
	all: "all",
	begin: "Begin at {time}",
	oneFrame: "Take 1 frame",
	frames: "Take {frames} frames",
	exposure: "Set the exposure to {exposure}",
	most: "{longest} at most",
	mostThen: "{longest} at most if begun at {time}",
});

export interface EachTarget {
	readonly cell: Cell;
	readonly target: EvaluatedTarget;
	readonly night: EvaluatedNight;
	readonly clock: (at: EpochMs) => string;
	/**
	 * The series, or of a longer one its first day: what is in the way then is in the way a day later too, and nobody is
	 * on site for as long.
	 */
	readonly firstDay: Interval;
	/** Minutes of the series outside a list of times. */
	readonly minutesOutside: (list: readonly Interval[]) => number;
	/** Path of what says when it starts, else of its name. */
	readonly timePath: string;
}

/** The targets of an evaluation: every rule asks for the same. */
export const eachTarget = (evaluation: Evaluation): readonly EachTarget[] => targetsOf.of(evaluation, newTargets);

const targetsOf = new KeptBy<Evaluation, readonly EachTarget[]>();

function newTargets({ targets, night }: Evaluation): readonly EachTarget[] {
	if (!targets || !night) return [];
	const { cell } = targets;
	const clock = (at: EpochMs): string => nightClock(night, at);
	return (targets.value ?? []).flatMap((target) => {
		if (!target) return [];
		const { entry, index, series } = target;
		return {
			cell,
			target,
			night,
			clock,
			firstDay: { from: series.from, until: Math.min(series.until, series.from + DAY_MS) },
			minutesOutside: (list) => totalMinutes([series]) - totalMinutes(both(list, [series])),
			timePath: `${index}.${entry.from !== undefined ? "from" : entry.at !== undefined ? "at" : "name"}`,
		} satisfies EachTarget;
	});
}

/** Whether some minutes of a series are too few to be worth a word: none, or under half a minute and under half of a short one. */
export const isBrief = (minutes: number, series: Interval): boolean =>
	minutes === 0 || minutes < Math.min(0.5, totalMinutes([series]) / 2);

/** How many minutes of a series something takes, or `all`: what `of its 20 min` follows. */
export function partText(minutes: number, series: Interval): Phrase | string {
	const text = minutesText(minutes);
	return text === minutesText(totalMinutes([series])) ? words.all() : text;
}

/** Whether a target without a time of its own has no usable minute: that is told, and not what keeps it from one. */
export const isNeverUsable = ({ timed, usable }: EvaluatedTarget): boolean => !timed && totalMinutes(usable) === 0;

/** Minutes of an interval in which something does not hold. */
export const minutesWithout = (holds: (within: Interval) => readonly Interval[], within: Interval): number =>
	totalMinutes([within]) - totalMinutes(both(holds(within), [within]));

/**
 * A moment of an interval at which something does not hold: its start or its end, else the middle of the first time
 * without it.
 */
export function momentWithout(holds: (within: Interval) => readonly Interval[], within: Interval): EpochMs {
	const gaps = outside(holds(within), within);
	const [first] = gaps;
	const last = gaps[gaps.length - 1];
	if (!first || !last || first.from === within.from) return within.from;
	return last.until === within.until ? within.until : (first.from + first.until) / 2;
}

/** `never while you are on site`, or `19:40–21:10`. */
export function timesText(times: readonly Interval[], night: Dated): Phrase | string {
	const list = withWholeMinutes(times);
	return list.length === 0 ? words.never() : list.map((one) => nightInterval(night, one)).join(", ");
}

const DAY_MS = 86_400_000;

/**
 * Begins a timed series at the whole minute nearest to its start from which all of it lies in one stretch of a list:
 * of the first list that has such a stretch.
 */
export function beginFix(one: EachTarget, ...lists: readonly (readonly Interval[])[]): readonly Fix[] {
	const { from, until } = one.target.series;
	const length = until - from;
	for (const list of lists) {
		const starts = list.flatMap((stretch) => {
			const first = minuteUp(stretch.from);
			const last = minuteDown(stretch.until - length);
			return first <= last ? [Math.min(Math.max(from, first), last)] : [];
		});
		const [nearest] = starts.sort((a, b) => Math.abs(a - from) - Math.abs(b - from));
		if (nearest !== undefined) return beginAt(one, nearest);
	}
	return [];
}

/** Begins a timed series at an instant, where it does not and a clock can say so. */
export function beginAt({ cell, target, night, timePath }: EachTarget, start: EpochMs): readonly Fix[] {
	const { secondsOfDay } = wallClock(night.zone, start);
	if (clockOfEntry(target.entry) === undefined || start === target.series.from || night.instant(secondsOfDay) !== start)
		return [];
	return fix(
		words.begin({ time: exactNightClock(night, start) }),
		false,
		replaceValue(cell, timePath, clockText(secondsOfDay)),
	);
}

/** How many frames, with the gaps between them, fit into some seconds. */
export function framesIn({ exposure = 0, gap = 0 }: EvaluatedTarget["entry"], seconds: number): number {
	return exposure > 0 ? Math.max(0, Math.floor((seconds + gap) / (exposure + gap))) : 0;
}

/** Takes fewer frames, one at least. */
export function framesFix({ cell, target: { entry, index, panorama } }: EachTarget, frames: number): readonly Fix[] {
	// Frames of a panorama count for each panel.
	if (panorama !== undefined || entry.frames === undefined || frames < 1 || frames >= entry.frames) return [];
	const title = frames === 1 ? words.oneFrame() : words.frames({ frames });
	return fix(title, false, replaceValue(cell, `${index}.frames`, frames));
}

const MOST_TRIED = 8;

/**
 * Sets the longest exposure that holds. Frames whose time the evening finds may be at another one with it, and what holds
 * is less there: it is looked at in the plan as it will be. `longest`: what holds, in seconds; undefined where any does.
 */
export function exposureFix(
	{ plan, instead }: Evaluation,
	{ cell, target }: EachTarget,
	longest: (target: EvaluatedTarget) => number | undefined,
): readonly Fix[] {
	const { index } = target;
	let most = longest(target) ?? 0;
	for (let tried = 0; tried < MOST_TRIED && most >= 0.01; tried++) {
		const exposure = settableText(most);
		const seconds = Number.parseFloat(exposure);
		const after = instead(withExposure(plan, index, seconds)).targets?.value?.[index];
		most = (after && longest(after)) ?? seconds;
		if (seconds <= most * JUST_OVER)
			return fix(words.exposure({ exposure }), false, replaceValue(cell, `${index}.exposure`, exposure));
	}
	return [];
}

/** What `expose for` is followed by: for how long, and of what the evening finds its time for, that of the time it has. */
export function atMost({ target, night }: EachTarget, seconds: number): Phrase {
	const longest = longestText(seconds);
	return target.timed
		? words.most({ longest })
		: words.mostThen({ longest, time: exactNightClock(night, target.series.from) });
}

/** So many times what holds is not worth a word. */
export const JUST_OVER = 1.02;

/** The plan with another exposure of one of its targets. */
const withExposure = (plan: Plan, place: number, exposure: number): Plan => ({
	...plan,
	cells: plan.cells.map((one) =>
		one.read.kind === "targets"
			? {
					...one,
					read: {
						...one.read,
						content: one.read.content?.map((entry, i) => (i === place ? { ...entry, exposure } : entry)),
					},
				}
			: one,
	),
});
