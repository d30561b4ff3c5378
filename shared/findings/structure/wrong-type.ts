import { asYaml } from "../../text/scalar.ts";
import { sentences } from "../../text/sentence.ts";
import { fix, replaceWrong, rule } from "../finding.ts";
import { gotWords } from "./got.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/wrong-type", {
	title: "Not what belongs here",
	about: "A list stands where a single value belongs, a word where `true` or `false` does, and the like.",
	message: "Here belongs {wanted}; this is {got}.",
	change: "Change to {better}",
});

export default rule({
	code: "structure/wrong-type",
	severity: "error",
	words,
	wrong: { method: 'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: yes' },
	right: { method: 'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: True' },
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "wrong-type")) {
			const { wanted, got, fix: better } = problem;
			yield {
				cell,
				span: problem,
				message: words.message({ wanted, got: gotWords(got) }),
				fixes: better ? fix(words.change({ better }), true, replaceWrong(cell, problem, asYaml(better))) : [],
			};
		}
	},
});
