/**
 * The evening's placed times, written into a plan: the alignment's, the frames', the foreground's. What is written gives
 * the same evening and brings no new error or warning, or nothing is written and the reason is told.
 */
import { foregroundOf } from "../cells/targets/target.ts";
import { clockOf, minuteUp } from "../earth/zone.ts";
import type { Evaluation } from "../evaluate/evaluate.ts";
import type { EveningStep } from "../evaluate/evening/tasks.ts";
import { setBehind } from "../plan/key-behind.ts";
import { applyEdits, editsOnce } from "../text/edits.ts";
import { asYaml } from "../text/scalar.ts";
import { type Phrase, sentences } from "../text/sentence.ts";
import { type Edit, replaceValue, setKey } from "./finding.ts";
import { newProblem, problemsOf } from "./new-problems.ts";

const words = sentences("evening.write", {
	none: "the plan has no evening: it needs a site, a night and something to do",
	fixed: "every step of the evening already has its time",
	moved: "writing its times would change the evening",
	problem: "its times cannot be written without causing a new problem: {message}",
});

/** What is written, or why nothing is. */
export type EveningWritten =
	| { readonly ok: true; readonly edits: readonly Edit[] }
	| { readonly ok: false; readonly why: Phrase };

/** `evaluated`: a changed text of the plan with all that follows, what it takes from other files included. */
export function writeEvening(evaluation: Evaluation, evaluated: (text: string) => Evaluation): EveningWritten {
	const { plan, evening } = evaluation;
	if (!evening) return { ok: false, why: words.none() };
	const edits = placedEdits(evaluation);
	if (edits.length === 0) return { ok: false, why: words.fixed() };
	const after = evaluated(applyEdits(plan.text, edits));
	const made = newProblem(problemsOf(after), problemsOf(evaluation));
	if (made) return { ok: false, why: words.problem({ message: made.message }) };
	return isSame(evening.steps, after.evening?.steps ?? []) ? { ok: true, edits } : { ok: false, why: words.moved() };
}

/** Whether two evenings do the same at the same times. */
const isSame = (one: readonly EveningStep[], other: readonly EveningStep[]): boolean =>
	one.length === other.length &&
	one.every(({ kind, of, from, until }, i) => {
		const step = other[i] as EveningStep;
		return step.kind === kind && step.of === of && step.from === from && step.until === until;
	});

function placedEdits({ evening, methods, targets, night }: Evaluation): readonly Edit[] {
	if (!evening || !night) return [];
	const clock = (at: number): string => clockOf(night.zone, at);
	const edits = evening.steps.map(({ kind, of, from, until, fixed }): Edit | undefined => {
		if (fixed || of === undefined) return undefined;
		switch (kind) {
			case "align": {
				const method = methods[of];
				const at = method?.value?.setUp.at ?? minuteUp((from + until) / 2);
				const isPlaced = of === evening.aligned || method?.value?.method.corrects === true;
				return method && isPlaced && !method.cell.read.places.has("at")
					? setBehind(method.cell, "", "at", clock(at), "kind")
					: undefined;
			}
			case "sky":
				return targets && setBehind(targets.cell, String(of), "from", clock(from), "aim");
			case "foreground": {
				const entry = targets?.value?.[of]?.entry;
				if (!targets || !entry || !foregroundOf(entry)) return undefined;
				const at = clock(from);
				return entry.foreground === true
					? replaceValue(targets.cell, `${of}.foreground`, asYaml(`{ at: "${at}" }`))
					: setKey(targets.cell, `${of}.foreground`, "at", at);
			}
			default:
				return undefined;
		}
	});
	return editsOnce(edits.filter((edit) => edit !== undefined));
}
