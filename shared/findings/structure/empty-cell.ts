import { sentences } from "../../text/sentence.ts";
import { fix, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/empty-cell", {
	title: "Empty cell",
	about: `There is nothing but white space or comments between two \`---\` lines, or after the last one. It does no harm,
		but it is often the trace of a cell that was deleted or never written. Write the cell, or delete the \`---\` line
		above the gap.`,
	message: "This cell is empty. Write the cell, or delete the `---` above it.",
	delete: "Delete the empty cell",
});

export default rule({
	code: "structure/empty-cell",
	severity: "info",
	words,
	wrong: { text: "plan:\n  title: A\n---\n# nothing yet\n---\nnight:\n  date: 2027-06-05\n" },
	instead: { text: "plan:\n  title: A\n---\nnight:\n  date: 2027-06-05\n" },
	right: { note: "Nothing yet." },
	*find(evaluation) {
		// An empty file has its own finding: that its cells are missing.
		if (evaluation.plan.cells.length === 1) return;
		for (const { cell, problem } of problemsOf(evaluation, "empty-cell")) {
			const { start: from, end: to, text } = cell;
			const marked = /^---/.test(text) && !/^\.\.\./m.test(text);
			// A comment would go with it.
			const safe = text.trim() === "---";
			yield {
				cell,
				span: problem,
				message: words.message(),
				fixes: marked ? fix(words.delete(), safe, { from, to, text: "" }) : [],
			};
		}
	},
});
