/**
 * A night of the search, written into a plan: its date, marks and clock times that work. What is written checks as clean
 * as the plan did before, or nothing is written and the reason is told.
 */
import { clockOfEntry } from "../cells/targets/composition.ts";
import type { PlacedTarget } from "../cells/targets/target.ts";
import { clockOf } from "../earth/zone.ts";
import type { Evaluation } from "../evaluate/evaluate.ts";
import {
	marksFor,
	type NightChoice,
	type NightMark,
	withContent,
	withoutClock,
	withoutTime,
} from "../evaluate/nights.ts";
import { suggestionsFor } from "../evaluate/suggestions.ts";
import { type MethodContent, methodOf } from "../methods/methods.ts";
import { dateText } from "../notation/clock.ts";
import { setBehind } from "../plan/key-behind.ts";
import { type Cell, cellsOf, inText, type Plan } from "../plan/plan.ts";
import { cutEntry } from "../text/cut-entry.ts";
import { applyEdits, editsOnce } from "../text/edits.ts";
import { asYaml } from "../text/scalar.ts";
import { type Phrase, sentences } from "../text/sentence.ts";
import { appendCell, type Edit, type Finding, setKey } from "./finding.ts";
import { newProblem, problemsOf } from "./new-problems.ts";

const words = sentences("nights.write", {
	date: "the evening of {date} cannot be written: a date cannot be added to the plan's night as it is written",
	problem: "the evening of {date} cannot be written into this plan without causing a new problem: {message}",
});

/** What is written, or why nothing is. */
export type NightWritten =
	| { readonly ok: true; readonly edits: readonly Edit[]; readonly mark: NightMark | undefined }
	| { readonly ok: false; readonly why: Phrase };

/** `evaluated`: a changed text of the plan with all that follows, what it takes from other files included. */
export function writeNight(plan: Plan, choice: NightChoice, evaluated: (text: string) => Evaluation): NightWritten {
	const date = dateText(choice.date);
	const before = problemsOf(evaluated(plan.text));
	let first: Finding | undefined;
	for (const { edits, mark } of attempts(plan, choice, evaluated)) {
		const after = evaluated(applyEdits(plan.text, edits));
		if (!after.night || dateText(after.night.date) !== date) return { ok: false, why: words.date({ date }) };
		const made = newProblem(problemsOf(after), before);
		if (!made) return { ok: true, edits, mark };
		first ??= made;
	}
	return { ok: false, why: words.problem({ date, message: first?.message ?? "" }) };
}

/** With each mark in turn: the frames' times kept where they are usable, then all of them placed anew. */
function* attempts(
	plan: Plan,
	choice: NightChoice,
	evaluated: (text: string) => Evaluation,
): Generator<{ readonly edits: readonly Edit[]; readonly mark: NightMark | undefined }> {
	const { cell, date } = choice;
	const own = cellsOf(plan, "method").find(({ index }) => index === cell);
	const marks = marksOn(plan, choice, evaluated);
	for (const mark of marks.length > 0 ? marks : [undefined]) {
		const dated = [...dateEdits(plan, dateText(date)), ...(own && mark ? markEdits(own, mark, choice.night.zone) : [])];
		const others = otherMethods(evaluated(applyEdits(plan.text, editsOnce(dated))), cell);
		const evening = editsOnce([...dated, ...others]);
		const after = evaluated(applyEdits(plan.text, evening));
		// Targets that are one node by an alias are edited once.
		for (const keeps of [isUsable, () => false])
			yield { mark, edits: editsOnce([...evening, ...targetEdits(plan, after, keeps)]) };
	}
}

/**
 * What the method may be pointed at, in the order in which it is offered for the plan on that date: frames that keep their
 * times want it done before them.
 */
function marksOn(plan: Plan, choice: NightChoice, evaluated: (text: string) => Evaluation): readonly NightMark[] {
	const { marks, method } = choice;
	if (marks.length < 2 || !method?.kind || !methodOf(method.kind).search?.momentary) return marks;
	const dated = evaluated(applyEdits(plan.text, dateEdits(plan, dateText(choice.date))));
	const thatNight = dated.instead(withoutTimes(dated, timesOf(dated, isUsable)));
	const offered = suggestionsFor(thatNight, methodOf(method.kind), method, { most: marks.length, twilight: false });
	return offered.length > 0 ? offered : marks;
}

/** The date, and none of what belongs to the old one. */
function dateEdits(plan: Plan, date: string): readonly Edit[] {
	const [night] = cellsOf(plan, "night");
	if (!night) return [appendCell(plan, `night:\n  date: ${date}`)];
	return [...kept(setKey(night, "", "date", asYaml(date))), ...lowWaterCut(night)];
}

/** Low water is another on another date; a comment behind it goes with it. */
function lowWaterCut(night: Cell): readonly Edit[] {
	const low = night.read.places.get("low-water");
	if (!low?.key) return [];
	const { to } = low.whole ?? low.value;
	const comment = /^[ \t]*#[^\r\n]*/.exec(night.text.slice(to))?.[0] ?? "";
	const cut = cutEntry(night.text, { from: low.key.from, to: to + comment.length });
	return cut ? [{ ...inText(night, cut), text: "" }] : [];
}

const kept = (edit: Edit | undefined): readonly Edit[] => (edit ? [edit] : []);

/** What a method points at, with its clock time where the mark has a moment of its own or the plan gives one. */
function markEdits(cell: Cell, { keys, at }: NightMark, zone: string): readonly Edit[] {
	const written = cell.read.content as MethodContent | undefined;
	const momentary = written?.kind && methodOf(written.kind).search?.momentary;
	return [
		...Object.entries(keys).flatMap(([key, value]) => kept(setBehind(cell, "", key, value, "kind"))),
		...(momentary || written?.at !== undefined ? kept(setBehind(cell, "", "at", clockOf(zone, at), "kind")) : []),
	];
}

/** Marks of the methods beside the one that aligns, where theirs does not work on the new date. */
function otherMethods({ methods, tonight, night }: Evaluation, aligning: number | undefined): readonly Edit[] {
	if (!tonight || !night) return [];
	return methods.flatMap(({ cell, value }) => {
		if (!value || value.works || cell.index === aligning) return [];
		const [mark] = marksFor(withoutClock(value.content), tonight) ?? [];
		return mark ? markEdits(cell, mark, night.zone) : [];
	});
}

/** Whether all of a series can be taken at its time. */
const isUsable = ({ series, usable }: PlacedTarget): boolean =>
	usable.some(({ from, until }) => from <= series.from && series.until <= until);

/** Of which targets the clock times are of the sky and are not kept. */
const timesOf = ({ placed }: Evaluation, keeps: (target: PlacedTarget) => boolean): readonly boolean[] =>
	(placed?.value ?? []).map(
		(target) => target?.ofTheSky === true && clockOfEntry(target.entry) !== undefined && !keeps(target),
	);

/** The plan with some of its targets at any time. */
const withoutTimes = ({ plan }: Evaluation, moves: readonly boolean[]): Plan => ({
	...plan,
	cells: plan.cells.map((one) =>
		one.read.kind === "targets" && one.read.content
			? withContent(
					one,
					one.read.content.map((entry, index) => (moves[index] ? withoutTime(entry) : entry)),
				)
			: one,
	),
});

/** Clock times of frames that are of the sky and do not keep theirs: where the evening has room for them. */
function targetEdits(plan: Plan, dated: Evaluation, keeps: (target: PlacedTarget) => boolean): readonly Edit[] {
	const { placed, night } = dated;
	const [cell] = cellsOf(plan, "targets");
	if (!cell || !placed || !night) return [];
	const moves = timesOf(dated, keeps);
	const { evening } = dated.instead(withoutTimes(dated, moves));
	return moves.flatMap((moved, index) => {
		const entry = placed.value?.[index]?.entry;
		const step = evening?.steps.find(({ kind, of }) => kind === "sky" && of === index);
		if (!moved || !entry || !step) return [];
		const key = entry.from === undefined ? "at" : "from";
		return kept(setKey(cell, String(index), key, clockOf(night.zone, step.from)));
	});
}
