import { withUnit } from "../../notation/limits.ts";
import type { ValueProblem } from "../../notation/problem.ts";
import { asYaml } from "../../text/scalar.ts";
import { type Phrase, sentences } from "../../text/sentence.ts";
import { fix, replaceWrong, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/out-of-range", {
	title: "Value out of range",
	about: `The value is written correctly but is outside the range that makes sense for its key: a latitude beyond 90°,
		a negative exposure, more frames than a plan may hold. Nothing is computed from it. Often a decimal point, a
		sign or a unit has slipped. Write a value within the limits given.`,
	limited: "`{text}` is out of range; use {limits}.",
	natural: "`{text}` is out of range: {what} must be between {min}{unit} and {max}{unit}.",
	above: "more than {limit}",
	atLeast: "at least {limit}",
	atMost: "at most {limit}",
	both: "{lower} and {upper}",
	each: "{limits} for each number",
	change: "Change to {better}",
});

export default rule({
	code: "structure/out-of-range",
	severity: "error",
	words,
	wrong: { site: "name: Sheepfold\nlatitude: 95.2 S\nlongitude: 54.3622 W" },
	instead: { site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 54.3622 W" },
	right: { site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 54.3622 W\nelevation: -400 m\nskyline: [[0, 20]]" },
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "out-of-range"))
			yield {
				cell,
				span: problem,
				message: message(problem),
				fixes:
					problem.fix === undefined
						? []
						: fix(words.change({ better: problem.fix }), false, replaceWrong(cell, problem, asYaml(problem.fix))),
			};
	},
});

type OutOfRange = Extract<ValueProblem, { type: "out-of-range" }>;

function message({ text, what, limits: { min, max, above }, unit, each }: OutOfRange): Phrase {
	if (what) return words.natural({ text, what: [what], min: minus(min ?? 0), max: minus(max ?? 0), unit });
	const shown = (limit: number) => ({ limit: minus(withUnit(limit, unit)) });
	const lower =
		above !== undefined ? words.above(shown(above)) : min !== undefined ? words.atLeast(shown(min)) : undefined;
	const upper = max !== undefined ? words.atMost(shown(max)) : undefined;
	const limits =
		lower && upper ? [words.both({ lower: [lower], upper: [upper] })] : lower ? [lower] : upper ? [upper] : [];
	return words.limited({ text, limits: each ? [words.each({ limits })] : limits });
}

const minus = (value: number | string): string => `${value}`.replace("-", "−");
