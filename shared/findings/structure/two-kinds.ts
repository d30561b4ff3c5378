import { CELL_KIND_NAMES } from "../../cells/kinds.ts";
import { inText } from "../../plan/plan.ts";
import { fix, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

export default rule({
	code: "structure/two-kinds",
	severity: "error",
	title: "Two keys in one cell",
	about:
		"A cell has one key, its kind. A second key at the same depth is either another cell that lacks the `---` above it, or a key of the cell that is not indented.",
	wrong: { text: "plan:\n  title: A\nsite:\n  name: B\n" },
	right: {},
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "two-kinds")) {
			const [kind, word] = problem.words;
			const another = (CELL_KIND_NAMES as readonly string[]).includes(word ?? "");
			yield {
				cell,
				span: problem,
				message: another
					? `\`${word}\` begins another cell: put a line \`---\` above it.`
					: `\`${word}\` stands beside \`${kind}\`, but a cell has one key. Indent it to make it part of \`${kind}\`.`,
				fixes: another
					? fix("Put --- above it", true, { ...inText(cell, { from: problem.from, to: problem.from }), text: "---\n" })
					: [],
			};
		}
	},
});
