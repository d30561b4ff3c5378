import { listText } from "../../text/list.ts";
import { sentences } from "../../text/sentence.ts";
import { fix, replaceWrong, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/unknown-key", {
	title: "Unknown key",
	about: `The cell has no such key. A key that nobody reads is most often a mistyped one, so it is an error: what it was
		meant to say would be left out without a word.`,
	meant: "`{word}` is not known here. Did you mean `{nearest}`?",
	known: "`{word}` is not known here. Known are {known}.",
	change: "Change to {nearest}",
});

export default rule({
	code: "structure/unknown-key",
	severity: "error",
	words,
	wrong: { night: 'date: 2027-06-05\nariive: "17:00"\nleave: "02:00"' },
	right: { night: 'date: 2027-06-05\n"arrive": "17:00"\nleave: "02:00"' },
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "unknown-key")) {
			const { word, nearest, known } = problem;
			yield {
				cell,
				span: problem,
				message: nearest
					? words.meant({ word, nearest })
					: words.known({ word, known: listText(known.map((key) => `\`${key}\``)) }),
				fixes: nearest ? fix(words.change({ nearest }), true, replaceWrong(cell, problem, nearest)) : [],
			};
		}
	},
});
