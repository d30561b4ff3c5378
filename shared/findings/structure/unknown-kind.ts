import { CELL_KIND_NAMES } from "../../cells/kinds.ts";
import { eitherText } from "../../text/list.ts";
import { sentences } from "../../text/sentence.ts";
import { fix, replaceWrong, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/unknown-kind", {
	title: "Kind of cell not recognised",
	about: `The first key of a cell names its kind: \`plan\`, \`site\`, \`night\`, \`lens\`, \`tracker\`, \`method\`, \`targets\`, \`note\`
		or \`log\`. A cell of any other kind is not read, so everything written in it is missing from the plan. Correct
		the spelling, or move the text into a \`note\`.`,
	message: "Unknown kind of cell `{word}`.{meant} Use {kinds}.",
	meant: " Did you mean `{nearest}`?",
	change: "Change to {nearest}",
});

export default rule({
	code: "structure/unknown-kind",
	severity: "error",
	words,
	wrong: { text: "sight:\n  name: Sheepfold\n" },
	instead: { text: "site:\n  name: Sheepfold\n" },
	right: { note: "The sight is from the gate." },
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "unknown-kind")) {
			const { word, nearest } = problem;
			const meant = nearest ? [words.meant({ nearest })] : "";
			yield {
				cell,
				span: problem,
				message: words.message({ word, meant, kinds: eitherText(CELL_KIND_NAMES.map((kind) => `\`${kind}\``)) }),
				fixes: nearest ? fix(words.change({ nearest }), true, replaceWrong(cell, problem, nearest)) : [],
			};
		}
	},
});
