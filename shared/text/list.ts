/** Lists of words in a sentence. */
import { sentences, told } from "./sentence.ts";

const words = sentences("text.list", { and: "{before} and {last}" });

/** `a`, `a and b`, `a, b and c`. */
export function listText(items: readonly string[]): string {
	const last = items[items.length - 1] ?? "";
	return items.length <= 1 ? last : told(words.and({ before: items.slice(0, -1).join(", "), last }));
}
