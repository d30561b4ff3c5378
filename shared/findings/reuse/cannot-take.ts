import type { ReuseProblem } from "../../plan/reuse.ts";
import { type Phrase, sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("reuse/cannot-take", {
	title: "Nothing to take there",
	about: `A cell takes from another plan with \`from\`: a relative path inside the workspace. The file must be there and
		hold a cell of the same kind, and plans must not take from each other in a circle.`,
	notRelative: "Only a relative path inside the workspace is taken, such as `../stands/chapel.lode.yaml`.",
	outside: "This path leads out of the workspace: nothing outside it is read.",
	notFound: "There is no plan at `{from}`, seen from this file.",
	noCell: "`{from}` has no `{kind}` cell to take.",
	cycle: `This goes round in a circle: the plan takes from one that takes from it. Write the cell out in one of
		them.`,
});

const MESSAGES: Readonly<Record<ReuseProblem["type"], (problem: ReuseProblem) => Phrase>> = {
	"not-relative": () => words.notRelative(),
	outside: () => words.outside(),
	"not-found": ({ from }) => words.notFound({ from: from.slice(0, 80) }),
	"no-cell": ({ kind, from }) => words.noCell({ kind, from: from.slice(0, 80) }),
	cycle: () => words.cycle(),
};

export default rule({
	code: "reuse/cannot-take",
	severity: "error",
	words,
	wrong: { site: "from: /etc/passwd" },
	right: { site: "from: ../stands/none.lode.yaml\nlatitude: 32.4123 S\nlongitude: 20.8431 E" },
	over: [
		{ site: "from: ../../stands/none.lode.yaml\nlatitude: 32.4123 S\nlongitude: 20.8431 E" },
		{ site: "from: ../stands/nine.lode.yaml\nlatitude: 32.4123 S\nlongitude: 20.8431 E" },
	],
	*find({ plan }) {
		for (const problem of plan.reuse?.problems ?? [])
			yield { ...at(problem.cell, "from"), message: MESSAGES[problem.type](problem) };
	},
});
