/** What the steps of an evening are called. */
import { type Phrase, sentences } from "../../text/sentence.ts";
import type { Evaluation } from "../evaluate.ts";
import type { EveningStep, StepKind } from "./tasks.ts";

const words = sentences("evening", {
	"walk-in": "Walk in",
	"set-up": "Set up",
	again: "Set up again for {name}",
	focus: "Focus",
	refocus: "Focus on the stars again for {name}",
	align: "Align: {method}",
	correct: "Correct the axis: {method}",
	"test-frame": "Test frame: {name}",
	"re-aim": "Aim at {name}",
	"lens-change": "Change the lens for {name}, and focus it",
	"turn-back": "Wind the drive back",
	sky: "{name}",
	foreground: "Foreground: {name}",
	darks: "Dark frames: {name}",
	check: "Check focus, dew and battery",
	wait: "Wait",
	"pack-up": "Pack up",
	"walk-out": "Walk out",
});

/** What a step is for: the name of its target, the name of its method; undefined for steps that are for all of them. */
export function stepOwner(
	{ kind, of }: Pick<EveningStep, "kind" | "of">,
	{ methods, targets }: Evaluation,
): string | undefined {
	if (of === undefined) return undefined;
	return kind === "align" ? methods[of]?.value?.name : targets?.value?.[of]?.name;
}

/** Whether an alignment only corrects what another has set. */
const corrects = ({ of }: Pick<EveningStep, "of">, { methods, evening }: Evaluation): boolean =>
	of !== evening?.aligned && methods[of ?? -1]?.value?.method.corrects === true;

/** A step as a person is told of it. */
export function stepName(step: Pick<EveningStep, "kind" | "of">, evaluation: Evaluation): Phrase {
	const { kind, of } = step;
	const name = stepOwner(step, evaluation) ?? "";
	switch (kind) {
		case "align":
			return (corrects(step, evaluation) ? words.correct : words.align)({ method: name });
		case "set-up":
			return of === undefined ? words["set-up"]() : words.again({ name });
		case "focus":
			return of === undefined ? words.focus() : words.refocus({ name });
		case "test-frame":
		case "re-aim":
		case "lens-change":
		case "sky":
		case "foreground":
		case "darks":
			return words[kind]({ name });
		default:
			return words[kind satisfies Exclude<StepKind, "align">]();
	}
}
