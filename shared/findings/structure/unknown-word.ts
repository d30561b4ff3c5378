import { eitherText } from "../../text/list.ts";
import { sentences } from "../../text/sentence.ts";
import { fix, replaceWrong, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/unknown-word", {
	title: "Option not recognised",
	about: `This key accepts only a few words, and the one written is not among them. It is often a typing error, or
		belongs to another key. Nothing is guessed: until the word is corrected, the key counts as missing. Replace it
		with one of the words that the error lists.`,
	message: "Unknown word `{text}`.{meant} Use {known}.",
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
				message: words.message({ text, known: eitherText(known.map((one) => `\`${one}\``)), meant }),
				fixes: nearest ? fix(words.change({ nearest }), true, replaceWrong(cell, problem, nearest)) : [],
			};
		}
	},
});
