/** What could be pointed at instead of a mark that fails: sentences and fixes, from the method's own search. */
import type { EvaluatedMethod } from "../../cells/method/method.ts";
import { clockOf } from "../../earth/zone.ts";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import { suggestionsFor } from "../../evaluate/suggestions.ts";
import type { Candidate } from "../../methods/method.ts";
import type { Cell } from "../../plan/plan.ts";
import { type Phrase, sentences } from "../../text/sentence.ts";
import { type Fix, fix, setKey } from "../finding.ts";
import { windowWords } from "./windows.ts";

const words = sentences("method.marks-instead", {
	none: ` No star down to magnitude 4.5 passes the aim point in view and in a dark enough sky while you are on site.
		Choose another method, another night or more time on site.`,
	works: " Usable tonight: {name} at {at}.",
	takeAt: "Use {name} at {at}",
	take: "Use {name}",
});

export interface OtherMarks {
	readonly say: Phrase | "";
	readonly fixes: readonly Fix[];
}

const NOTHING: OtherMarks = { say: "", fixes: [] };

/** Marks of tonight for a method whose marks have moments of their own; nothing for others. */
export function otherMarks(evaluation: Evaluation, cell: Cell, { method, content }: EvaluatedMethod): OtherMarks {
	const { night } = evaluation;
	if (!night || !method.search?.momentary) return NOTHING;
	const found = suggestionsFor(evaluation, method, content);
	const [best] = found;
	if (!best) return { say: words.none(), fixes: [] };
	return {
		say: words.works({ name: best.name, at: clockOf(night.zone, best.at) }),
		fixes: found.slice(0, 3).flatMap((one) => takeFix(evaluation, cell, method.search?.timed === true, one)),
	};
}

/** The same; for other methods when they can be used. */
export function otherMarksOrTimes(evaluation: Evaluation, cell: Cell, method: EvaluatedMethod): OtherMarks {
	return method.method.search?.momentary
		? otherMarks(evaluation, cell, method)
		: { say: windowWords(method, evaluation), fixes: [] };
}

/** Fixes that take the best of what the method's search finds, whatever the method. */
export const takeBest = (
	evaluation: Evaluation,
	cell: Cell,
	{ method, content }: EvaluatedMethod,
	most: number,
): readonly Fix[] =>
	suggestionsFor(evaluation, method, content, most).flatMap((one) =>
		takeFix(evaluation, cell, method.search?.timed === true, one),
	);

function takeFix({ night }: Evaluation, cell: Cell, timed: boolean, { name, at, keys }: Candidate): readonly Fix[] {
	const clock = clockOf(night?.zone ?? "UTC", at);
	return fix(
		timed ? words.takeAt({ name, at: clock }) : words.take({ name }),
		false,
		...Object.entries(keys).map(([key, value]) => setKey(cell, "", key, value)),
		...(timed ? [setKey(cell, "", "at", clock)] : []),
	);
}
