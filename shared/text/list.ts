/** Lists as a sentence has them. */
import { sentences, told } from "./sentence.ts";

const words = sentences("list", { and: "{all} and {last}", or: "{all} or {last}", comma: ", " });

const joined = (items: readonly string[], join: "and" | "or"): string =>
	items.length <= 1
		? (items[0] ?? "")
		: told(words[join]({ all: items.slice(0, -1).join(told(words.comma())), last: items[items.length - 1] ?? "" }));

/** `a`, `a and b`, `a, b and c`. */
export const listText = (items: readonly string[]): string => joined(items, "and");

/** `a`, `a or b`, `a, b or c`. */
export const eitherText = (items: readonly string[]): string => joined(items, "or");
