/** What changed between two states of a plan, as other programs get it. */
import { compare } from "../compare/compare.ts";
import type { Materials } from "../output.ts";

export function comparisonRecord({ before, after }: Materials["states"]) {
	const { text, values, windows, evening, findings } = compare(before, after);
	return { old: before.path, new: after.path, text, figures: values, windows, evening, findings };
}
