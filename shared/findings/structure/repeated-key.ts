import { rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

export default rule({
	code: "structure/repeated-key",
	severity: "error",
	title: "A key twice",
	about: "The same key stands twice in one mapping. The first one is read; which of them was meant, only you know.",
	wrong: { night: 'date: 2027-06-05\ndate: 2027-06-06\narrive: "17:00"\nleave: "02:00"' },
	right: {},
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "repeated-key")) {
			yield {
				cell,
				span: problem,
				message: `\`${problem.word}\` stands here a second time; the first one is read. Delete one of the two.`,
			};
		}
	},
});
