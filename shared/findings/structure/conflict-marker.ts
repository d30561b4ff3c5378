import { rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

export default rule({
	code: "structure/conflict-marker",
	severity: "error",
	title: "Left over from a merge",
	about:
		"Two versions of the plan were merged and left a conflict in the text. Choose one side and delete the three marker lines.",
	wrong: { text: "plan:\n<<<<<<< ours\n  title: A\n=======\n  title: B\n>>>>>>> theirs\n" },
	right: {},
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "conflict-marker")) {
			yield {
				cell,
				span: problem,
				message: "A merge left its conflict markers here. Keep one of the two versions and delete the marker lines.",
			};
		}
	},
});
