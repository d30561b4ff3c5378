import { inText } from "../../plan/plan.ts";
import { fix, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

export default rule({
	code: "structure/wrong-type",
	severity: "error",
	title: "Not what belongs here",
	about: "A list stands where a single value belongs, a word where `true` or `false` does, and the like.",
	wrong: { method: 'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: yes' },
	right: {},
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "wrong-type")) {
			const { wanted, got, fix: better } = problem;
			yield {
				cell,
				span: problem,
				message: `Here belongs ${wanted}; this is ${got}.`,
				fixes: better ? fix(`Change to ${better}`, true, { ...inText(cell, problem), text: better }) : [],
			};
		}
	},
});
