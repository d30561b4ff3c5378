import { CELL_KIND_NAMES } from "../../cells/kinds.ts";
import { rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

export default rule({
	code: "structure/not-a-cell",
	severity: "error",
	title: "Not a cell",
	about:
		"A plan is a stream of YAML documents with `---` between them. Each is a mapping with one key: the kind of the cell.",
	wrong: { text: "- just\n- a list\n" },
	right: {},
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "not-a-cell")) {
			yield {
				cell,
				span: problem,
				message: `A cell is a mapping with one key, its kind (${CELL_KIND_NAMES.join(", ")}); this is ${problem.got}.`,
			};
		}
	},
});
