import { CELL_KIND_NAMES } from "../../cells/kinds.ts";
import { eitherText } from "../../text/list.ts";
import { sentences } from "../../text/sentence.ts";
import { rule } from "../finding.ts";
import { gotWords } from "./got.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/not-a-cell", {
	title: "Not a cell",
	about: `A plan is a series of YAML documents separated by \`---\` lines. Each document is one cell: a mapping with a
		single key, which names the kind of cell. A list or plain text at this level belongs to no cell, and nothing in
		it is read. Indent it under the kind it belongs to.`,
	message: "Expected a cell, found {got}. Begin with its kind and a colon ({kinds}).",
});

export default rule({
	code: "structure/not-a-cell",
	severity: "error",
	words,
	wrong: { text: "- just\n- a list\n" },
	instead: { note: "- just\n- a list" },
	right: { note: '"- just\\n- a text"' },
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "not-a-cell")) {
			const message = words.message({
				kinds: eitherText(CELL_KIND_NAMES.map((kind) => `\`${kind}\``)),
				got: gotWords(problem.got),
			});
			yield { cell, span: problem, message };
		}
	},
});
