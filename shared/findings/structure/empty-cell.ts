import { rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

export default rule({
	code: "structure/empty-cell",
	severity: "info",
	title: "An empty cell",
	about:
		"Between two `---` lines, or after the last one, nothing stands. It does no harm; write a cell there or delete the line.",
	wrong: { text: "plan:\n  title: A\n---\n# nothing yet\n---\nnight:\n  date: 2027-06-05\n" },
	right: {},
	*find(evaluation) {
		// An empty file has its own finding: that its cells are missing.
		if (evaluation.plan.cells.length === 1) return;
		for (const { cell, problem } of problemsOf(evaluation, "empty-cell"))
			yield { cell, span: problem, message: "This cell is empty. Write a cell here, or delete the `---` above it." };
	},
});
