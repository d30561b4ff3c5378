/** What stands where something else belongs, in words: for the rules that say so. */
import type { Got } from "../../notation/problem.ts";
import { type Phrase, sentences } from "../../text/sentence.ts";

const words = sentences("structure/got", {
	mapping: "a mapping",
	emptyMapping: "an empty mapping",
	list: "a list",
	alias: "an alias",
	nothing: "nothing",
	text: "`{text}`",
});

export function gotWords(got: Got): readonly [Phrase] {
	switch (got.what) {
		case "text":
			return [words.text({ text: got.text })];
		case "empty-mapping":
			return [words.emptyMapping()];
		default:
			return [words[got.what]()];
	}
}
