import { type Phrase, sentences } from "../../text/sentence.ts";
import { rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/length", {
	title: "Wrong number of items",
	about: `Some lists need a certain number of items: an outline at least three corners, a list of two stars or two solved
		frames exactly two. With fewer there is nothing to compute from; with more it is not clear which are meant. Add
		the missing items or delete the extra ones.`,
	oneItem: "This list has {got} item; it needs {wanted}.",
	manyItems: "This list has {got} items; it needs {wanted}.",
	exactly: "exactly {number}",
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
longitude: 54.3622 W
openings: [{ name: door, outline: [[170, 0], [190, 20]] }]`,
	},
	instead: {
		site: `name: Sheepfold
latitude: 32.4123 S
longitude: 54.3622 W
place: [ruin]
openings: [{ name: door, outline: [[170, 0], [190, 0], [190, 20], [170, 20]] }]`,
	},
	right: {
		site: `name: Sheepfold
latitude: 32.4123 S
longitude: 54.3622 W
place: [ruin]
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
