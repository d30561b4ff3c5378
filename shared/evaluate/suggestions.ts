/** What the plan's methods can be pointed at tonight. */
import type { EpochMs } from "../earth/zone.ts";
import { beginAt, doneAt, minutesTaken } from "../methods/before-frames.ts";
import type { Candidate, SearchOptions } from "../methods/method.ts";
import { ALL_METHODS, type AnyMethod, type MethodContent } from "../methods/methods.ts";
import type { Tonight } from "../methods/tonight.ts";
import { durationText } from "../notation/duration.ts";
import { nightClock } from "../notation/night-clock.ts";
import type { Cell } from "../plan/plan.ts";
import { type Phrase, sentences } from "../text/sentence.ts";
import type { Evaluation } from "./evaluate.ts";
import { mostLeftFirst, usableFor } from "./most-left.ts";

/** A method of a kind that searches, with what it finds tonight; the best first. */
export interface Suggestions {
	readonly method: AnyMethod;
	readonly content: MethodContent;
	/** The method's cell; undefined where the plan has none of the kind. */
	readonly cell: Cell | undefined;
	readonly found: readonly Candidate[];
}

/**
 * What the method of a cell can be pointed at tonight, in the order in which it is offered everywhere: what leaves the frames
 * whole first; where none has a time yet, what leaves most of the night. Nothing for a method that does not search.
 */
export function suggestionsFor(
	{ tonight, placed }: Pick<Evaluation, "tonight" | "placed">,
	method: AnyMethod,
	content: MethodContent,
	{ most, ...options }: SearchOptions = {},
): readonly Candidate[] {
	const { search } = method;
	if (!tonight || !search) return [];
	const usable = search.momentary && tonight.due === undefined ? usableFor(placed?.value ?? []) : undefined;
	if (!usable) return search.find(content, tonight, most === undefined ? options : { ...options, most });
	return mostLeftFirst(search.find(content, tonight, options), usable, content, tonight).slice(0, most);
}

/** The plan's first method whose marks pass at moments of their own, with those of tonight. */
export function momentarySuggestions(evaluation: Evaluation): Suggestions | undefined {
	for (const { cell, value } of evaluation.methods) {
		if (!value?.method.search?.momentary) continue;
		const { method, content } = value;
		return { method, content, cell, found: suggestionsFor(evaluation, method, content) };
	}
	return undefined;
}

/** The method a plan's own words ask for when a key is typed that only one search fills, whatever its kind says. */
export const searchFilling = (key: string): AnyMethod | undefined =>
	ALL_METHODS.find(({ search }) => search?.key === key);

const words = sentences("suggestions", {
	late: "the frames begin {late} later",
	early: "before you are set up ({ready})",
	both: "{detail}; {cost}",
});

/** What it costs to use one of them: the frames begin later, or one is not set up yet; undefined where it costs nothing. */
export function costOf(tonight: Tonight, method: AnyMethod, content: MethodContent, at: EpochMs): Phrase | undefined {
	const { ready, due } = tonight;
	const minutes = minutesTaken(content, method.takes(content));
	const late = due === undefined ? 0 : doneAt(at, minutes) - due;
	if (late > 0) return words.late({ late: durationText(Math.ceil(late / 60_000) * 60) });
	return beginAt(at, minutes) < ready ? words.early({ ready: nightClock(tonight, ready) }) : undefined;
}

/** What is said of one of them, with what it costs. */
export function withCost(
	{ tonight }: Pick<Evaluation, "tonight">,
	method: AnyMethod,
	content: MethodContent,
	{ at }: Candidate,
	detail: Phrase,
): Phrase {
	const cost = tonight && costOf(tonight, method, content, at);
	return cost ? words.both({ detail, cost }) : detail;
}
