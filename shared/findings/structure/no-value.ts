import { rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

export default rule({
	code: "structure/no-value",
	severity: "error",
	title: "A key without a value",
	about: "Nothing stands after the key.",
	wrong: { night: 'date:\narrive: "17:00"\nleave: "02:00"' },
	right: {},
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "no-value")) {
			yield {
				cell,
				span: problem,
				message: `\`${problem.key}\` has no value${problem.example ? `, for example \`${problem.example}\`` : ""}.`,
			};
		}
	},
});
