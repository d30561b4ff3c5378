import { sentences } from "../../text/sentence.ts";
import { rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/no-value", {
	title: "Key without a value",
	about: `There is nothing after the colon, so the key has no effect. Lodebook does not fill in a value that you may
		not have meant: what would be computed from it is left out. Write a value after the colon, or delete the key
		if it is optional.`,
	message: "`{key}` has no value.{example}",
	example: " Write one, for example `{example}`.",
});

export default rule({
	code: "structure/no-value",
	severity: "error",
	words,
	wrong: { night: 'date:\narrive: "17:00"\nleave: "02:00"' },
	instead: { night: 'date: 2027-06-05\narrive: "17:00"\nleave: "02:00"' },
	right: { night: 'date:\n  2027-06-05\narrive: "17:00"\nleave: "02:00"' },
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "no-value")) {
			const { key, example } = problem;
			yield {
				cell,
				span: problem,
				message: words.message({ key, example: example ? [words.example({ example })] : "" }),
			};
		}
	},
});
