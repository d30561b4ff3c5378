/** What the steps of an evening are called. */
import { type Phrase, sentences } from "../../text/sentence.ts";
import type { Evaluation } from "../evaluate.ts";
import type { EveningStep, StepKind } from "./tasks.ts";

const words = sentences("evening", {
	"walk-in": "Walk in",
	"set-up": "Set up",
	again: "Set up again for {name}",
	focus: "Focus",
	align: "Align: {method}",
	"test-frame": "Test frame: {name}",
	"re-aim": "Aim at {name}",
	"lens-change": "Change the lens for {name}",
	"turn-back": "Turn the drive back",
	sky: "{name}",
	foreground: "Foreground: {name}",
	darks: "Dark frames: {name}",
	wait: "Wait",
	"pack-up": "Pack up",
	"walk-out": "Walk out",
});

/** A step as a person is told of it. */
export function stepName({ kind, of }: Pick<EveningStep, "kind" | "of">, evaluation: Evaluation): Phrase {
	const name = of === undefined ? "" : (evaluation.targets?.value?.[of]?.name ?? "");
	switch (kind) {
		case "align":
			return words.align({ method: evaluation.methods[of ?? 0]?.value?.method.kind ?? "" });
		case "set-up":
			return of === undefined ? words["set-up"]() : words.again({ name });
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
