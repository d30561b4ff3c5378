/** Helpers of all suites: plan texts with marks in them, and what the project says of them. */

import { type Evaluation, evaluate } from "../shared/evaluate/evaluate.ts";
import { check } from "../shared/findings/check.ts";
import { exampleText } from "../shared/findings/example-plan.ts";
import type { Example, Finding } from "../shared/findings/finding.ts";
import { readPlan } from "../shared/plan/plan.ts";
import { type Library, PlanJoiner } from "../shared/plan/reuse.ts";

/** A workspace of a site without coordinates and two kits, one aligned by a laser, the other by a landmark. */
const OTHERS: Readonly<Record<string, string>> = {
	"sites/none.lode.yaml": "site:\n  name: None\n",
	"kits/laser.lode.yaml": exampleText({ site: null, night: null }),
	"kits/landmark.lode.yaml": exampleText({
		site: null,
		night: null,
		method: "kind: landmark-bearing\nlandmark: water tower",
	}),
};
const library: Library = (path) => {
	const text = OTHERS[path];
	return text === undefined ? { missing: "not-found" } : { plan: readPlan(text) };
};

const joined = (text: string) => new PlanJoiner().join(readPlan(text), "plans/example.lode.yaml", library);

export const checkText = (text: string): readonly Finding[] => check(evaluate(joined(text)));

export const codesOf = (text: string): readonly string[] => checkText(text).map(({ code }) => code);

/** The example plan with some of its cells replaced. */
export const planWith = (changes: Example): string => exampleText(changes);

export const evaluateText = (text: string): Evaluation => evaluate(readPlan(text));

/** All figures of a plan by id; the first of each. */
export function valuesOf(text: string): ReadonlyMap<string, number | string | null> {
	const evaluation = evaluateText(text);
	const values = new Map<string, number | string | null>();
	for (const cell of evaluation.plan.cells)
		for (const { id, value } of evaluation.valuesOf(cell)) if (!values.has(id)) values.set(id, value);
	return values;
}

/** A figure that must be a number. */
export function computed(text: string, id: string): number {
	const value = valuesOf(text).get(id);
	if (typeof value !== "number") throw new Error(`${id} is ${value}`);
	return value;
}

/** Takes `$0` out of a text and says where it stood. */
export function cursor(marked: string): { readonly text: string; readonly offset: number } {
	const offset = marked.indexOf("$0");
	return { text: marked.replace("$0", ""), offset };
}

/**
 * Annotated plan texts: under a line, `# ^^^ code` marks what must be underlined there. Gives the text without the
 * marks and the marks as `line:from-to code`.
 */
export function annotated(marked: string): { readonly text: string; readonly marks: readonly string[] } {
	const kept: string[] = [];
	const marks: string[] = [];
	for (const line of marked.split("\n")) {
		const match = /^\s*#?\s*(\^+)\s+(\S+\/\S+)$/.exec(line);
		if (!match) kept.push(line);
		else {
			const from = line.indexOf("^");
			marks.push(`${kept.length}:${from + 1}-${from + 1 + (match[1] as string).length} ${match[2]}`);
		}
	}
	return { text: kept.join("\n"), marks };
}

/** Findings in the form of `annotated`'s marks. */
export function marksOf(text: string): readonly string[] {
	const lineOf = (offset: number) => text.slice(0, offset).split("\n").length;
	const columnOf = (offset: number) => offset - text.lastIndexOf("\n", offset - 1);
	return checkText(text).map(({ code, from, to }) => `${lineOf(from)}:${columnOf(from)}-${columnOf(to)} ${code}`);
}
