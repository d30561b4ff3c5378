import { listText } from "../../text/list.ts";
import { sentences } from "../../text/sentence.ts";
import { fix, replaceWrong, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/unknown-word", {
	title: "A word that is not one of the few",
	about: "The key takes one of a few words, and this is none of them.",
	message: "`{text}` is none of {known}.{meant}",
	meant: " Did you mean `{nearest}`?",
	change: "Change to {nearest}",
});

export default rule({
	code: "structure/unknown-word",
	severity: "error",
	words,
	wrong: { method: 'kind: squared-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: true' },
	right: { method: 'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: true' },
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "unknown-word")) {
			const { text, nearest, known } = problem;
			const meant = nearest ? [words.meant({ nearest })] : "";
			yield {
				cell,
				span: problem,
				message: words.message({ text, known: listText(known), meant }),
				fixes: nearest ? fix(words.change({ nearest }), true, replaceWrong(cell, problem, nearest)) : [],
			};
		}
	},
});
