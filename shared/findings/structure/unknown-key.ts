import { eitherText } from "../../text/list.ts";
import { sentences } from "../../text/sentence.ts";
import { fix, replaceWrong, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/unknown-key", {
	title: "Key not recognised",
	about: `This cell has no such key. Most unknown keys are typing errors, and ignoring one would silently drop what
		you wrote: with \`arive\` instead of \`arrive\` the plan would have no arrival time. That is why this is an
		error. Correct the spelling, or delete the key.`,
	meant: "Unknown key `{word}`. Did you mean `{nearest}`?",
	known: "Unknown key `{word}`. Use {known}.",
	change: "Change to {nearest}",
});

export default rule({
	code: "structure/unknown-key",
	severity: "error",
	words,
	wrong: { night: 'date: 2027-06-05\nariive: "17:00"\nleave: "02:00"' },
	instead: { night: 'date: 2027-06-05\narrive: "17:00"\nleave: "02:00"' },
	right: { night: 'date: 2027-06-05\n"arrive": "17:00"\nleave: "02:00"' },
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "unknown-key")) {
			const { word, nearest, known } = problem;
			yield {
				cell,
				span: problem,
				message: nearest
					? words.meant({ word, nearest })
					: words.known({ word, known: eitherText(known.map((key) => `\`${key}\``)) }),
				fixes: nearest ? fix(words.change({ nearest }), true, replaceWrong(cell, problem, nearest)) : [],
			};
		}
	},
});
