import { CELL_KIND_NAMES } from "../../cells/kinds.ts";
import { sentences } from "../../text/sentence.ts";
import { fix, replaceWrong, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/unknown-kind", {
	title: "Unknown kind of cell",
	about: `The key of a cell names its kind: \`plan\`, \`site\`, \`night\`, \`lens\`, \`tracker\`, \`method\`, \`targets\`,
		\`note\` or \`log\`.`,
	message: "`{word}` is no kind of cell.{meant} Kinds are {kinds}.",
	meant: " Did you mean `{nearest}`?",
	change: "Change to {nearest}",
});

export default rule({
	code: "structure/unknown-kind",
	severity: "error",
	words,
	wrong: { text: "sight:\n  name: Sheepfold\n" },
	right: { note: "The sight is from the gate." },
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "unknown-kind")) {
			const { word, nearest } = problem;
			const meant = nearest ? [words.meant({ nearest })] : "";
			yield {
				cell,
				span: problem,
				message: words.message({ word, meant, kinds: CELL_KIND_NAMES.join(", ") }),
				fixes: nearest ? fix(words.change({ nearest }), true, replaceWrong(cell, problem, nearest)) : [],
			};
		}
	},
});
