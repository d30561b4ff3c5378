/** Steps that set a scale of the head, with what the tracker's `zeros` correct for, so that nobody corrects twice. */
import { degrees, turnText } from "../notation/angle.ts";
import { type Phrase, sentences } from "../text/sentence.ts";
import type { Step } from "./method.ts";
import type { AxisNumbers, Tonight } from "./tonight.ts";

const words = sentences("method.set-scale", {
	tilt: "Set the tilt by the scale{zero}.",
	tiltMore: ": {tilt}, and {zero} more since the scale shows too much",
	tiltLess: ": {tilt}, less {zero} since the scale shows too little",
	turn: "Read the pan scale, then turn the pan by this much{zero}.",
	turnZero: ": {turn} to the pole, corrected by {zero} since the pan ends too far the other way",
});

/** A zero that is told; less could not be set. */
const isTold = (zero: number): boolean => Math.abs(zero) >= 0.005;

/** The tilt set by the scale. */
export function tiltStep(
	{ scaleTilt, tilt }: Pick<AxisNumbers, "scaleTilt" | "tilt">,
	{ tools: { tiltZero } }: Tonight,
): Step {
	const told = { tilt: degrees(tilt), zero: degrees(Math.abs(tiltZero)) };
	const zero: Phrase | string = !isTold(tiltZero) ? "" : tiltZero > 0 ? words.tiltMore(told) : words.tiltLess(told);
	return { say: words.tilt({ zero }), number: degrees(scaleTilt) };
}

/** The pan turned by its scale; `offset` has the zero taken off. */
export function turnStep(offset: number, { tools: { panZero } }: Tonight): Step {
	const zero: Phrase | string = isTold(panZero)
		? words.turnZero({ turn: turnText(offset + panZero), zero: turnText(-panZero) })
		: "";
	return { say: words.turn({ zero }), number: turnText(offset) };
}
