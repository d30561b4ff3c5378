import { CELL_KIND_NAMES } from "../../cells/kinds.ts";
import { sentences } from "../../text/sentence.ts";
import { rule } from "../finding.ts";
import { gotWords } from "./got.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/not-a-cell", {
	title: "Not a cell",
	about: `A plan is a stream of YAML documents with \`---\` between them. Each is a mapping with one key: the kind of the
		cell.`,
	message: "A cell is a mapping with one key, its kind ({kinds}); this is {got}.",
});

export default rule({
	code: "structure/not-a-cell",
	severity: "error",
	words,
	wrong: { text: "- just\n- a list\n" },
	right: { note: '"- just\\n- a text"' },
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "not-a-cell")) {
			const message = words.message({ kinds: CELL_KIND_NAMES.join(", "), got: gotWords(problem.got) });
			yield { cell, span: problem, message };
		}
	},
});
