import { type Phrase, sentences } from "../../text/sentence.ts";
import { rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/length", {
	title: "Too few or too many",
	about: "The list must have a certain number of items: an outline at least three corners, `stars` two.",
	oneItem: "This list has {got} item; it must have {wanted}.",
	manyItems: "This list has {got} items; it must have {wanted}.",
	exactly: "{number}",
	atLeast: "at least {number}",
	atMost: "at most {number}",
});

export default rule({
	code: "structure/length",
	severity: "error",
	words,
	wrong: {
		site: `name: Sheepfold
latitude: 32.4123 S
longitude: 20.8431 E
openings: [{ name: door, outline: [[170, 0], [190, 20]] }]`,
	},
	right: {
		site: `name: Sheepfold
latitude: 32.4123 S
longitude: 20.8431 E
openings:
  - { name: door, outline: [[60, 0], [160, 0], [110, 85]] }
  - { name: gable, outline: [[300, 0], [60, 0], [0, 88]] }`,
	},
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "length")) {
			const { got } = problem;
			const item = { got, wanted: [wanted(problem)] };
			yield { cell, span: problem, message: got === 1 ? words.oneItem(item) : words.manyItems(item) };
		}
	},
});

function wanted({ min, max, got }: { readonly min: number; readonly max: number; readonly got: number }): Phrase {
	if (min === max) return words.exactly({ number: min });
	return got < min ? words.atLeast({ number: min }) : words.atMost({ number: max });
}
