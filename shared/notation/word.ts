/** One of a few words, each with what it means. */
import { nearestWord } from "../text/nearest.ts";
import { sentences, texts } from "../text/sentence.ts";
import type { Notation } from "./notation.ts";
import { Refused, scalar } from "./scalar.ts";

const words = sentences("notation.word", { described: "one of {words}", explained: "one of{meanings}" });

/** One of a few words, each with what it means. */
export const word = <W extends Record<string, string>>(
	given: W,
	/** Whether the meanings are sentences of the catalogue already. */
	as?: "told",
): Notation<Extract<keyof W, string>> => {
	const known = Object.keys(given);
	const meanings =
		as === "told" ? given : (texts(`word.${known.join("-")}`, given) as Readonly<Record<string, string>>);
	return scalar<Extract<keyof W, string>>({
		type: "word",
		describe: () => words.described({ words: known.join(", ") }),
		explain: () =>
			words.explained({
				meanings: Object.entries(meanings)
					.map(([one, meaning]) => `\n- \`${one}\`: ${meaning}`)
					.join(""),
			}),
		readText: (text) =>
			Object.hasOwn(meanings, text)
				? (text as Extract<keyof W, string>)
				: new Refused({ type: "unknown-word", nearest: nearestWord(text, known), known }),
		// `true` as a word comes as a boolean when it is not quoted.
		schema: () => ({ enum: known.includes("true") ? [...known, true] : known }),
		complete: () => known.map((one) => ({ label: one, detail: meanings[one] as string, kind: "word" })),
		colour: "enumMember",
	});
};
