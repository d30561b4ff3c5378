/**
 * A slice's text as YAML, in bounded time and depth. It knows no kind of cell, so that what only cuts and joins a plan,
 * the extension's notebook, needs nothing of the model.
 */
import { type Document, parseDocument } from "yaml";

/** What a stranger's file may ask for. */
export const BOUNDS = {
	/** Characters in one document. */
	sliceLength: 200_000,
	/** Brackets, or list dashes, inside each other. */
	depth: 40,
	/** Values read in one document, aliases followed. */
	values: 20_000,
	/** Aliases followed in one document. */
	aliases: 200,
	/** Problems told of one document. */
	problems: 100,
} as const;

/** One slice as YAML, by YAML 1.2. The parser recurses: what `tooDeep` has not seen can exhaust the stack. */
export const parseSlice = (text: string): Document.Parsed =>
	parseDocument(text, {
		version: "1.2",
		schema: "core",
		uniqueKeys: false,
		prettyErrors: false,
		logLevel: "silent",
		merge: false,
	});

/** The same, undefined for what would take the parser too long or too deep. */
export function parseWithinBounds(text: string): Document.Parsed | undefined {
	if (text.length > BOUNDS.sliceLength || tooDeep(text) !== undefined) return undefined;
	const document = parse(text);
	return typeof document === "string" ? undefined : document;
}

/** The same, or the code of a problem where the parser gives up. */
export function parse(text: string): Document.Parsed | "TOO_DEEP" | "NO_YAML" {
	try {
		return parseSlice(text);
	} catch (error) {
		// The parser recurses; what the depth scan let through may still be too deep for the stack.
		return error instanceof RangeError ? "TOO_DEEP" : "NO_YAML";
	}
}

/** Offset at which nesting passes the bound, or undefined. Quotes are not minded: brackets in text count too. */
export function tooDeep(text: string): number | undefined {
	let depth = 0;
	let dashes = 0;
	for (let i = 0; i < text.length; i++) {
		const code = text.charCodeAt(i);
		if (code === 91 || code === 123) {
			if (++depth > BOUNDS.depth) return i;
		} else if (code === 93 || code === 125) depth = Math.max(0, depth - 1);
		else if (code === 45 || code === 63 || code === 58) {
			const next = text.charCodeAt(i + 1);
			if ((next === 32 || next === 9 || next === 10) && ++dashes > BOUNDS.depth) return i;
		} else if (code !== 32 && code !== 9) dashes = 0;
	}
	return undefined;
}
