import { listText } from "../../notation/spoken.ts";
import { inText } from "../../plan/plan.ts";
import { fix, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

export default rule({
	code: "structure/unknown-key",
	severity: "error",
	title: "Unknown key",
	about:
		"The cell has no such key. A key that nobody reads is most often a mistyped one, so it is an error: what it was meant to say would be left out without a word.",
	wrong: { night: 'date: 2027-06-05\nariive: "17:00"\nleave: "02:00"' },
	right: {},
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "unknown-key")) {
			const { word, nearest, known } = problem;
			yield {
				cell,
				span: problem,
				message: `\`${word}\` is not known here.${nearest ? ` Did you mean \`${nearest}\`?` : ` Known are ${listText(known.map((key) => `\`${key}\``))}.`}`,
				fixes: nearest ? fix(`Change to ${nearest}`, true, { ...inText(cell, problem), text: nearest }) : [],
			};
		}
	},
});
