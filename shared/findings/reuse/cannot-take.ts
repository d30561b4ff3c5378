import type { ReuseProblem } from "../../plan/reuse.ts";
import { at, rule } from "../finding.ts";

const WORDS: Readonly<Record<ReuseProblem["type"], (problem: ReuseProblem) => string>> = {
	"not-relative": () => "Only a relative path inside the workspace is taken, such as `../stands/chapel.lode.yaml`.",
	outside: () => "This path leads out of the workspace: nothing outside it is read.",
	"not-found": ({ from }) => `There is no plan at \`${from.slice(0, 80)}\`, seen from this file.`,
	"no-cell": ({ kind, from }) => `\`${from.slice(0, 80)}\` has no \`${kind}\` cell to take.`,
	cycle: () =>
		"This goes round in a circle: the plan takes from one that takes from it. Write the cell out in one of them.",
};

export default rule({
	code: "reuse/cannot-take",
	severity: "error",
	title: "Nothing to take there",
	about:
		"A cell takes from another plan with `from`: a relative path inside the workspace. The file must be there and hold a cell of the same kind, and plans must not take from each other in a circle.",
	wrong: { site: "from: /etc/passwd" },
	right: {},
	*find({ plan }) {
		for (const problem of plan.reuse?.problems ?? [])
			yield { ...at(problem.cell, "from"), message: WORDS[problem.type](problem) };
	},
});
