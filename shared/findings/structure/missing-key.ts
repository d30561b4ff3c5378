import { inText } from "../../plan/plan.ts";
import { entryText } from "../../text/before-key.ts";
import { sentences } from "../../text/sentence.ts";
import { fix, lineBreakOf, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/missing-key", {
	title: "Missing key",
	about: `The cell needs this key: without it there is nothing to compute from, and everything that follows from the
		cell is left out rather than guessed. Add the key with your own value; the example in the message only shows how
		it is written, and the fix adds the key without a value.`,
	message: "`{key}` is missing. Add it, for example `{key}: {example}`.",
	add: "Add {key}",
});

export default rule({
	code: "structure/missing-key",
	severity: "error",
	words,
	wrong: { night: 'arrive: "17:00"\nleave: "02:00"' },
	instead: { night: 'date: 2027-06-05\narrive: "17:00"\nleave: "02:00"' },
	right: { night: 'date: 2027-06-05\narrive: "17:00"' },
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "missing-key")) {
			const { key, example, insertAt, indent } = problem;
			yield {
				cell,
				span: problem,
				message: words.message({ key, example }),
				fixes:
					insertAt === undefined
						? []
						: fix(words.add({ key }), false, {
								...inText(cell, { from: insertAt, to: insertAt }),
								text: entryText(`${key}:`, indent, lineBreakOf(cell.text)),
							}),
			};
		}
	},
});
