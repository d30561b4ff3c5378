import { inText } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { fix, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/repeated-key", {
	title: "A key twice",
	about: "The same key stands twice in one mapping. The first one is read; which of them was meant, only you know.",
	message: "`{key}` stands here a second time; the first one is read. Delete one of the two.",
	delete: "Delete this one: both say the same",
});

export default rule({
	code: "structure/repeated-key",
	severity: "error",
	words,
	wrong: { night: 'date: 2027-06-05\ndate: 2027-06-06\narrive: "17:00"\nleave: "02:00"' },
	right: {
		targets: `- name: core
  aim: galactic-centre
  from: "21:30"
  exposure: 60 s
  foreground: true
- name: ground
  aim: galactic-centre
  from: "22:00"
  exposure: 60 s
  foreground: true`,
	},
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "repeated-key")) {
			const { word, cut } = problem;
			yield {
				cell,
				span: problem,
				message: words.message({ key: word }),
				fixes: cut ? fix(words.delete(), true, { ...inText(cell, cut), text: "" }) : [],
			};
		}
	},
});
