import { rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

export default rule({
	code: "structure/length",
	severity: "error",
	title: "Too few or too many",
	about: "The list must have a certain number of items: an outline at least three corners, `stars` two.",
	wrong: {
		site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 20.8431 E\nopenings: [{ name: door, outline: [[170, 0], [190, 20]] }]",
	},
	right: {},
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "length")) {
			yield {
				cell,
				span: problem,
				message: `This list has ${problem.got} ${problem.got === 1 ? "item" : "items"}; it must have ${problem.wanted}.`,
			};
		}
	},
});
