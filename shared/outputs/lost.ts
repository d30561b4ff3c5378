/** What can be done when the alignment is lost, as every face shows it: a row for each way to align again. */

import type { EvaluatedNight } from "../cells/night/night.ts";
import type { Evaluation } from "../evaluate/evaluate.ts";
import type { AlignmentLost, WayBack } from "../evaluate/evening/lost.ts";
import { alignmentsLost } from "../evaluate/evening/lost.ts";
import { errorDegrees } from "../notation/angle.ts";
import { chanceText } from "../notation/chance.ts";
import { exposureText, longestText, minutesText } from "../notation/duration.ts";
import type { Value } from "../notation/value.ts";
import { sentences, told } from "../text/sentence.ts";
import { nightClock, nightInterval } from "./clock.ts";
import { briefNumbers } from "./steps.ts";

const words = sentences("output.lost", {
	title: "If the alignment is lost",
	lost: "lost at",
	with: "align again",
	time: "time",
	latest: "latest start (1 frame left)",
	numbers: "numbers",
	error: "axis within (95 %)",
	frames: "frames still possible, of those left",
	on: "{method} on {mark}",
	of: "{frames} of {planned}",
	but: "{frames}; {but}",
	foreground: "no time for the foreground",
	darks: "no time for the dark frames",
	passed: "{name}: {minutes} later than composed",
	longest: "{name}: expose for {longest} at most ({chance} chance without trails in {exposure})",
	never: "{name}: stars trail in any exposure",
	none: "no method in the plan is ready in time",
	and: "{first} and {second}",
});

/** A table: what it is called, its head, and a row for each way; the first column is empty where it is the row's above. */
export interface LostView {
	readonly title: string;
	readonly head: readonly string[];
	readonly rows: readonly (readonly string[])[];
}

/** The column of the numbers to set. */
export const NUMBERS = 6;

/** Undefined without tracked frames, or without a method. */
export function lostView(evaluation: Evaluation): LostView | undefined {
	const { night, methods } = evaluation;
	const alignmentLost = alignmentsLost(evaluation);
	if (!night || methods.length === 0 || alignmentLost.length === 0) return undefined;
	return {
		title: told(words.title()),
		head: [
			words.lost(),
			words.with(),
			words.time(),
			words.frames(),
			words.latest(),
			words.error(),
			words.numbers(),
		].map(told),
		rows: alignmentLost.flatMap(({ at, planned, ways }) =>
			ways.length === 0
				? [[nightClock(night, at), told(words.none()), "", told(words.of({ frames: 0, planned })), "", "", ""]]
				: ways.map((way, i) => [i === 0 ? nightClock(night, at) : "", ...wayColumns(way, planned, night)]),
		),
	};
}

function wayColumns(way: WayBack, planned: AlignmentLost["planned"], night: EvaluatedNight): readonly string[] {
	const { value, from, until, latest, frames } = way;
	const { name } = value;
	const mark = andOf(marksThen(way));
	return [
		mark === "" ? name : told(words.on({ method: name, mark })),
		nightInterval(night, { from, until }),
		framesThen(way, told(words.of({ frames, planned }))),
		nightClock(night, latest),
		errorDegrees(value.budget.radius95),
		briefNumbers(value),
	];
}

/** How many are left, what there is no time for beside them, which have lost their composition, and which would trail with this axis. */
const framesThen = ({ without, passed, trailing }: WayBack, frames: string): string =>
	[
		...without.flatMap((kind) => (kind === "foreground" || kind === "darks" ? words[kind]() : [])),
		...passed.map(({ target: { name }, by }) => words.passed({ name, minutes: minutesText(by / 60_000) })),
		...trailing.map(({ target: { name, entry }, chance, longest }) =>
			longest < SHORTEST
				? words.never({ name })
				: words.longest({
						name,
						longest: longestText(longest),
						chance: chanceText(Math.floor(chance * 100) / 100),
						exposure: exposureText(entry.exposure ?? 0),
					}),
		),
	].reduce((all, but) => told(words.but({ frames: all, but })), frames);

/** Seconds: no camera is set to less. */
const SHORTEST = 0.01;

const andOf = ([first = "", ...others]: readonly string[]): string =>
	others.reduce((all, second) => told(words.and({ first: all, second })), first);

/** What is pointed at then. */
export const marksThen = ({ value }: WayBack): readonly string[] => value.setUp.marks.map(({ name }) => name);

/** The numbers of a method that change with the clock, at the minute at which it is done again. */
export function numbersThen({ value }: WayBack, { tonight }: Evaluation): readonly Value[] {
	const { setUp, method } = value;
	return (setUp.at !== undefined && tonight && method.byMinute?.(setUp, tonight)?.(setUp.at)) || [];
}
