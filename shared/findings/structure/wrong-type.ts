import { asYaml } from "../../text/scalar.ts";
import { sentences } from "../../text/sentence.ts";
import { fix, replaceWrong, rule } from "../finding.ts";
import { gotWords } from "./got.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/wrong-type", {
	title: "Wrong type of value",
	about: `The value has the wrong structure for its key: a list where one value is expected, a word where \`true\` or
		\`false\` is, or a single value where a mapping with keys is. It cannot be used as it is. Rewrite it in the form
		that the error asks for.`,
	message: "Expected {wanted}, found {got}.",
	change: "Change to {better}",
});

export default rule({
	code: "structure/wrong-type",
	severity: "error",
	words,
	wrong: { method: 'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: yes' },
	instead: {
		method: 'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: true',
	},
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
