/** What could be pointed at instead of a mark that fails: sentences and fixes, from the method's own search. */
import type { EvaluatedMethod } from "../../cells/method/method.ts";
import { clockOf } from "../../earth/zone.ts";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import { suggestionsFor } from "../../evaluate/suggestions.ts";
import type { Candidate } from "../../methods/method.ts";
import { nightClock } from "../../notation/night-clock.ts";
import type { Cell } from "../../plan/plan.ts";
import { eitherText } from "../../text/list.ts";
import { type Phrase, sentences, told } from "../../text/sentence.ts";
import { type Fix, fix, setKey } from "../finding.ts";
import { windowWords } from "./windows.ts";

const words = sentences("method.marks-instead", {
	none: ` No star down to magnitude 4.5 passes the aim point in view and in a dark enough sky while you are on site.
		Choose another method, another night or more time on site.`,
	wider: " With `reach: {reach}` {name} can be used at {at}, with the beam well off the star.",
	works: " Usable tonight: {name} at {at}.",
	takeAt: "Use {name} at {at}",
	take: "Use {name}",
	others: " It cannot be used at any time while you are on site; usable tonight: {others}.",
	timed: "{name} at {at}",
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
	if (!best) return wider(evaluation, cell, method, content);
	return {
		say: words.works({ name: best.name, at: nightClock(night, best.at) }),
		fixes: found.slice(0, 3).flatMap((one) => takeFix(evaluation, cell, method.search?.timed === true, one)),
	};
}

/** How far from its place a mark may pass where none passes nearer, degrees. Common practice, no source. */
const WIDER = [1.5, 2, 3];

/** Where no mark passes, one that does within a wider reach. */
function wider(
	{ night, tonight }: Evaluation,
	cell: Cell,
	method: EvaluatedMethod["method"],
	content: EvaluatedMethod["content"],
): OtherMarks {
	for (const degrees of WIDER) {
		const [one] = (tonight && method.search?.find(content, tonight, { reach: degrees, most: 1 })) ?? [];
		if (!one || !night) continue;
		const { name } = one;
		const reach = `${degrees}°`;
		const at = nightClock(night, one.at);
		const keys = { reach, ...one.keys, at: clockOf(night.zone, one.at) };
		return {
			say: words.wider({ reach, name, at }),
			fixes: fix(
				words.takeAt({ name, at }),
				false,
				...Object.entries(keys).map(([key, value]) => setKey(cell, "", key, value)),
			),
		};
	}
	return { say: words.none(), fixes: [] };
}

/** The same; for other methods when they can be used, and with what if not with this mark. */
export function otherMarksOrTimes(evaluation: Evaluation, cell: Cell, method: EvaluatedMethod): OtherMarks {
	if (method.method.search?.momentary) return otherMarks(evaluation, cell, method);
	const others = othersOf(evaluation, method);
	return others
		? { say: others, fixes: takeBest(evaluation, cell, method, MOST_NAMED) }
		: { say: windowWords(method, evaluation), fixes: [] };
}

/** When a method can be used, and with what if not with this mark. */
export const marksOrTimesWords = (evaluation: Evaluation, method: EvaluatedMethod): Phrase | "" =>
	othersOf(evaluation, method) ?? windowWords(method, evaluation);

/** What else can be pointed at where a mark has no time of its own; undefined where there is a time, or nothing else. */
function othersOf(evaluation: Evaluation, method: EvaluatedMethod): Phrase | undefined {
	const others = method.setUp.windows.length === 0 ? listMarks(evaluation, method) : "";
	return others === "" ? undefined : words.others({ others });
}

/** Marks that a message names, each with its fix. */
export const MOST_NAMED = 3;

/** The best of what the method's search finds tonight, each with its time: `Spica at 21:30 or Vega at 22:10`. */
export function listMarks(evaluation: Evaluation, { method, content }: EvaluatedMethod): string {
	const { night } = evaluation;
	// A mark without a time of its own would have to be right at the plan's.
	if (!night || !method.search?.timed) return "";
	return eitherText(
		suggestionsFor(evaluation, method, content, { most: MOST_NAMED }).map(({ name, at }) =>
			told(words.timed({ name, at: nightClock(night, at) })),
		),
	);
}

/** Fixes that take the best of what the method's search finds, whatever the method. */
export const takeBest = (
	evaluation: Evaluation,
	cell: Cell,
	{ method, content }: EvaluatedMethod,
	most: number,
): readonly Fix[] =>
	suggestionsFor(evaluation, method, content, { most }).flatMap((one) =>
		takeFix(evaluation, cell, method.search?.timed === true, one),
	);

function takeFix({ night }: Evaluation, cell: Cell, timed: boolean, { name, at, keys }: Candidate): readonly Fix[] {
	if (!night) return [];
	return fix(
		timed ? words.takeAt({ name, at: nightClock(night, at) }) : words.take({ name }),
		false,
		...Object.entries(keys).map(([key, value]) => setKey(cell, "", key, value)),
		...(timed ? [setKey(cell, "", "at", clockOf(night.zone, at))] : []),
	);
}
