import { inText } from "../../plan/plan.ts";
import { describeShape } from "../../plan/read.ts";
import { fix, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

export default rule({
	code: "structure/unreadable",
	severity: "error",
	title: "A value that cannot be read",
	about:
		"A quantity without a unit or with one of another kind, a coordinate, bearing, clock time or date in a form the plan does not know. The message says which forms are.",
	wrong: { lens: "focal-length: 24\nsensor: 36 x 24 mm\npixels: 6000 x 4000" },
	right: {},
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "unreadable")) {
			const { text, shape, why, fix: better } = problem;
			const wanted = shape.type === "quantity" ? ` Here belongs ${describeShape(shape)}.` : "";
			yield {
				cell,
				span: problem,
				message: `\`${text}\` ${why}.${wanted}`,
				fixes: better ? fix(`Change to ${better}`, false, { ...inText(cell, problem), text: better }) : [],
			};
		}
	},
});
