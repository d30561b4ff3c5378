/** Steps as a numbered list, a line each: the number, what is to be done, and what is to be set. */
import type { EvaluatedMethod } from "../cells/method/method.ts";
import { sentences, told } from "../text/sentence.ts";

const words = sentences("output.steps", { also: "{first}; {second}" });

export interface Step {
	readonly say: string;
	/** Empty where nothing is set. */
	readonly number: string;
	/** The number is to look for or to check by, not to set. */
	readonly seen: boolean;
}

/** The steps of a method, told. */
export const toldSteps = (method: EvaluatedMethod): readonly Step[] =>
	method.steps().map(({ say, number = "", seen = false }) => ({ say: told(say), number, seen }));

/** What hands set, in a line: each number with what it is of. */
export function briefNumbers(method: EvaluatedMethod): string {
	const [first = "", ...others] = method.steps().flatMap(({ brief }) => (brief ? [told(brief)] : []));
	return others.reduce((all, second) => told(words.also({ first: all, second })), first);
}

interface StepStyle {
	/** How the words and the number of a step are written in the form that is made. */
	readonly say?: (text: string) => string;
	readonly number: (text: string) => string;
	/** Columns that the step's place in the list takes at least. */
	readonly width?: number;
}

/** The lines of the list. */
export const numberedSteps = (
	steps: readonly Step[],
	{ say = (text) => text, number, width = 0 }: StepStyle,
): readonly string[] =>
	steps.map(
		(step, i) => `${String(i + 1).padStart(width)}. ${say(step.say)}${step.number === "" ? "" : number(step.number)}`,
	);
