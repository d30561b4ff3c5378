import { sentences } from "../../text/sentence.ts";
import { fix, replaceWrong, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/unreadable", {
	title: "A value that cannot be read",
	about: `A quantity without a unit or with one of another kind, a coordinate, bearing, clock time or date in a form the
		plan does not know. The message says which forms are.`,
	message: "`{text}` {why}.{wanted}",
	wanted: " Here belongs {wanted}.",
	change: "Change to {better}",
});

export default rule({
	code: "structure/unreadable",
	severity: "error",
	words,
	wrong: { lens: "focal-length: 24\nsensor: 36 x 24 mm\npixels: 6000 x 4000" },
	right: { lens: "focal-length: 2.4cm\nf-number: f/2\nsensor: full-frame\npixels: 6000 × 4000 px" },
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "unreadable")) {
			const { text, why, wanted, fix: meant } = problem;
			const better = meant && replaceWrong(cell, problem, meant);
			yield {
				cell,
				span: problem,
				message: words.message({ text, why, wanted: wanted ? [words.wanted({ wanted })] : "" }),
				fixes: better ? fix(words.change({ better: better.text }), false, better) : [],
			};
		}
	},
});
