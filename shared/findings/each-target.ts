/**
 * Runs the rules that look at each target by itself. What they found at a target is remembered with it, until the target
 * or what they may use changes: an edit of one target asks them about that one.
 */
import type { EvaluatedTarget } from "../cells/targets/target.ts";
import type { Evaluation } from "../evaluate/evaluate.ts";
import { type EntryPlaces, ListPlaces } from "../plan/places.ts";
import type { Cell } from "../plan/plan.ts";
import { type Fix, FOR_EACH_TARGET, type Found, type Rule } from "./finding.ts";

/** What was found, without what follows from where the entry stands. */
interface Remembered {
	readonly rule: Rule;
	/** Its number among what the rule found. */
	readonly number: number;
	readonly severity: Found["severity"];
	/** Offsets from the entry's start. */
	readonly from: number;
	readonly to: number;
	readonly message: Found["message"];
}

interface Memory {
	readonly used: readonly unknown[];
	readonly places: EntryPlaces["places"];
	readonly found: readonly Remembered[];
}
const memories = new WeakMap<EvaluatedTarget, Memory>();

export function* findEachTarget(
	evaluation: Evaluation,
	rules: readonly Rule[],
): Iterable<Found & { readonly rule: Rule }> {
	const { targets } = evaluation;
	if (!targets?.value) return;
	const { cell } = targets;
	const { places } = cell.read;
	const used = FOR_EACH_TARGET.map((part) => evaluation[part]);
	for (const target of targets.value) {
		if (!target) continue;
		const only = onlyWith(evaluation, cell, target);
		const entry = places instanceof ListPlaces ? places.entries[target.index] : undefined;
		if (!entry) {
			for (const rule of rules) for (const found of rule.find(only)) yield { ...found, rule };
			continue;
		}
		let memory = memories.get(target);
		if (memory?.places !== entry.places || !memory.used.every((one, i) => one === used[i])) {
			const found = rules.flatMap((rule) =>
				[...rule.find(only)].map((one, i) => remembered(rule, i, one, entry.start)),
			);
			memory = { used, places: entry.places, found };
			memories.set(target, memory);
		}
		for (const { rule, number, severity, from, to, message } of memory.found) {
			const span = { from: from + entry.start, to: to + entry.start };
			yield { rule, cell, span, message, fixes: () => fixesOf(rule, only, number), ...(severity && { severity }) };
		}
	}
}

const remembered = (rule: Rule, number: number, { severity, span, message }: Found, start: number): Remembered => ({
	rule,
	number,
	severity,
	from: span.from - start,
	to: span.to - start,
	message,
});

/** Fixes are edits of the text as it stands: the rule is asked again. */
function fixesOf(rule: Rule, evaluation: Evaluation, number: number): readonly Fix[] {
	const { fixes = [] } = [...rule.find(evaluation)][number] ?? {};
	return typeof fixes === "function" ? fixes() : fixes;
}

/** The evaluation as if the plan had one target. */
const onlyWith = (evaluation: Evaluation, cell: Cell, target: EvaluatedTarget): Evaluation =>
	Object.create(evaluation, { targets: { value: { cell, value: [target] } } }) as Evaluation;
