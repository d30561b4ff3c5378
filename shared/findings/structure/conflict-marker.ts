import { type Cell, inText } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import type { Span } from "../../text/span.ts";
import { type Fix, fix, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/conflict-marker", {
	title: "Unresolved merge conflict",
	about: `A merge or a rebase could not decide between two versions of these lines, so git left both in the file with
		marker lines (\`<<<<<<<\`, \`=======\`, \`>>>>>>>\`) around them. YAML cannot read the markers, and the plan would
		hold both versions. Keep one version, or combine the two by hand, and delete the three marker lines.`,
	message: "This merge conflict is not resolved. Keep one of the two versions and delete the marker lines.",
	first: "Keep the first version",
	second: "Keep the second version",
});

export default rule({
	code: "structure/conflict-marker",
	severity: "error",
	words,
	wrong: { text: "plan:\n<<<<<<< ours\n  title: A\n=======\n  title: B\n>>>>>>> theirs\n" },
	instead: { plan: "title: A" },
	right: { note: "From the gate\n=======\nTurn left." },
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "conflict-marker"))
			yield { cell, span: problem, message: words.message(), fixes: sides(cell, evaluation.plan.text, problem) };
	},
});

/** How far a conflict is looked for. */
const LONGEST = 200_000;

/** Lines that are no markers, and a marker with what stands behind it. */
const LINES = "((?:(?![<>=|]{7})[^\\n]*\\n)*)";
const REST = "[^\\n]*\\n";
const CONFLICT = new RegExp(`^<{7}${REST}${LINES}(?:[|]{7}${REST}${LINES})?={7}${REST}${LINES}>{7}[^\\n]*(?:\\n|$)`);

/** One way out for each side of a conflict that stands there whole. */
function sides(cell: Cell, text: string, problem: Span): readonly Fix[] {
	const { from } = inText(cell, problem);
	const [whole, first, , second] = CONFLICT.exec(text.slice(from, from + LONGEST)) ?? [];
	if (whole === undefined || first === undefined || second === undefined) return [];
	const to = from + whole.length;
	return [
		...fix(words.first(), false, { from, to, text: first }),
		...fix(words.second(), false, { from, to, text: second }),
	];
}
