import { inText } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { fix, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/repeated-key", {
	title: "Key appears twice",
	about: `A mapping can hold each key only once. Lodebook uses the first value and ignores the second; other YAML
		programs may do the opposite or refuse the file. Delete the one you did not mean. If both have the same value,
		the fix deletes the second.`,
	message: "`{key}` appears twice; the first one is used. Delete one of them.",
	delete: "Delete this one (both have the same value)",
});

export default rule({
	code: "structure/repeated-key",
	severity: "error",
	words,
	wrong: { night: 'date: 2027-06-05\ndate: 2027-06-06\narrive: "17:00"\nleave: "02:00"' },
	instead: { night: 'date: 2027-06-05\narrive: "17:00"\nleave: "02:00"' },
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
