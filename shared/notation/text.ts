/** Text and names. */
import { sentences } from "../text/sentence.ts";
import type { Notation } from "./notation.ts";
import { type Refused, scalar, unreadable } from "./scalar.ts";

const words = sentences("notation.text", {
	described: "a text",
	empty: "This text is empty. Write something, or leave the key out.",
});

/** The schema of a name: one that looks like a number comes as a number. */
export const NAME_SCHEMA = { type: ["string", "number"], pattern: "\\S" } as const;

const TEXT = scalar<string>({
	type: "text",
	describe: words.described,
	readText: (text, value) => (typeof value !== "boolean" && text.trim() === "" ? unreadable(words.empty()) : text),
	schema: () => NAME_SCHEMA,
});

/** Text, as it stands. */
export const text = (): Notation<string> => TEXT;

const MARKDOWN: Notation<string> = {
	...TEXT,
	mayBeEmpty: true,
	schema: () => ({ type: ["string", "number", "boolean", "null"] }),
};

/** Text of several lines, which may be still to write. */
export const markdown = (): Notation<string> => MARKDOWN;

/** Reads a name: a text without the white space around it. */
export function readName(text: string): string | Refused {
	const trimmed = text.trim();
	return trimmed === "" ? unreadable(words.empty()) : trimmed;
}
