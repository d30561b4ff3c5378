import { inText } from "../../plan/plan.ts";
import { fix, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

export default rule({
	code: "structure/missing-key",
	severity: "error",
	title: "A key is missing",
	about: "The plan cannot be reckoned without this key.",
	wrong: { night: 'arrive: "17:00"\nleave: "02:00"' },
	right: {},
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "missing-key")) {
			const { key, example, insertAt, indent } = problem;
			const text = indent === undefined ? `${key}: ${example}, ` : `${key}: ${example}\n${indent}`;
			yield {
				cell,
				span: problem,
				message: `\`${key}\` is missing, for example \`${key}: ${example}\`.`,
				fixes: fix(`Add ${key}`, false, { ...inText(cell, { from: insertAt, to: insertAt }), text }),
			};
		}
	},
});
