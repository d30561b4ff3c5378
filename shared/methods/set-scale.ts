/** Steps that set a scale of the head, with what the tracker's `zeros` correct for, so that nobody corrects twice. */
import { degrees, turnText } from "../notation/angle.ts";
import { type Phrase, sentences } from "../text/sentence.ts";
import type { Step } from "./method.ts";
import type { AxisNumbers, Tonight } from "./tonight.ts";

const words = sentences("method.set-scale", {
	tilt: "Set the tilt by the scale{zero}.",
	tiltMore: " to this: {tilt} plus {zero}, its constant error",
	tiltLess: " to this: {tilt} minus {zero}, its constant error",
	tiltBrief: "tilt {tilt}",
	turn: "Read the pan scale, then turn the pan by this much, seen from above{zero}.",
	turnZero: ": {turn} to the pole, and {zero} for the constant error",
	turnBrief: "pan {turn}, seen from above",
});

/** A zero that is told; less could not be set. */
const isTold = (zero: number): boolean => Math.abs(zero) >= 0.005;

/** To a hundredth, so that the parts add up to what is set. */
const inFull = (angle: number): string => `${Number(angle.toFixed(2))}°`;

/** The tilt set by the scale. */
export function tiltStep(
	{ scaleTilt, tilt }: Pick<AxisNumbers, "scaleTilt" | "tilt">,
	{ tools: { tiltZero } }: Tonight,
): Step {
	const told = { tilt: inFull(tilt), zero: inFull(Math.abs(tiltZero)) };
	const zero: Phrase | string = !isTold(tiltZero) ? "" : tiltZero > 0 ? words.tiltMore(told) : words.tiltLess(told);
	return { say: words.tilt({ zero }), ...tiltNumber(scaleTilt) };
}

/** A tilt as it is set. */
export function tiltNumber(tilt: number): { readonly number: string; readonly brief: Phrase } {
	const number = degrees(tilt);
	return { number, brief: words.tiltBrief({ tilt: number }) };
}

/** The pan turned by its scale; `offset` has the zero taken off. */
export function turnStep(offset: number, { tools: { panZero } }: Tonight): Step {
	const zero: Phrase | string = isTold(panZero)
		? words.turnZero({ turn: turnText(offset + panZero), zero: turnText(-panZero) })
		: "";
	const number = turnText(offset);
	return { say: words.turn({ zero }), number, brief: words.turnBrief({ turn: number }) };
}
