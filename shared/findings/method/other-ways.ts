/** Which other methods can be used tonight, in words: what a message recommends, the core accepts. */
import type { Evaluation } from "../../evaluate/evaluate.ts";
import { waysTonight } from "../../evaluate/ways.ts";
import { type AnyMethod, methodWithKind } from "../../methods/methods.ts";
import { eitherText } from "../../text/list.ts";
import { type Phrase, sentences } from "../../text/sentence.ts";

const words = sentences("method.other-ways", {
	use: "Usable tonight: {others}.",
	rough: "Usable tonight, if only roughly: {others}.",
	none: "No other method can be used at this spot tonight.",
});

/** Those beside a method that a rule lets pass; where it lets none pass, the others are named as what they are. */
export function otherWays(
	{ tonight }: Evaluation,
	{ kind }: AnyMethod,
	accepts: (method: AnyMethod) => boolean = () => true,
): Phrase {
	const all = tonight ? waysTonight(tonight).filter((one) => one.kind !== kind) : [];
	const others = all.filter(accepts);
	if (others.length > 0) return words.use({ others: eitherText(others.map(methodWithKind)) });
	return all.length > 0 ? words.rough({ others: eitherText(all.map(methodWithKind)) }) : words.none();
}
