/** Which other methods can be used tonight, in words: what a message recommends, the core accepts. */
import type { Evaluation } from "../../evaluate/evaluate.ts";
import { waysTonight } from "../../evaluate/ways.ts";
import { type AnyMethod, methodWithKind } from "../../methods/methods.ts";
import { eitherText } from "../../text/list.ts";
import { type Phrase, sentences } from "../../text/sentence.ts";

const words = sentences("method.other-ways", {
	use: "Usable tonight: {others}.",
	none: "No other method can be used at this spot tonight.",
});

/** Those beside a method that a rule lets pass. */
export function otherWays(
	{ tonight }: Evaluation,
	{ kind }: AnyMethod,
	accepts: (method: AnyMethod) => boolean = () => true,
): Phrase {
	const others = tonight ? waysTonight(tonight).filter((one) => one.kind !== kind && accepts(one)) : [];
	return others.length === 0 ? words.none() : words.use({ others: eitherText(others.map(methodWithKind)) });
}
