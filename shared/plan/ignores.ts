/**
 * Comments that say which finding a line is not to have: `# lodebook-ignore CODE: reason`, behind the line or on one of
 * its own above it.
 */
import { Lexer } from "yaml";
import { KeptBy } from "../memory/memory.ts";
import { BOUNDS } from "./parse.ts";
import { type Cell, inText, type Plan } from "./plan.ts";
import type { Span } from "./problem.ts";

/** How such a comment begins. */
export const IGNORE = "lodebook-ignore";

export interface Ignore {
	readonly cell: Cell;
	/** Empty where the comment names none. */
	readonly code: string;
	readonly reason: string;
	/** The comment, without the white space around it, in the cell's slice. */
	readonly span: Span;
	/** The code alone, or the comment where it names none. */
	readonly codeSpan: Span;
	/** The line it speaks of, in the text of the plan. */
	readonly line: Span;
}

type Found = Omit<Ignore, "cell">;

const found = new KeptBy<Cell, readonly Ignore[]>();

/** The comments of a plan, in the order of the text. */
export function ignoresOf({ cells }: Plan): readonly Ignore[] {
	return cells.flatMap((cell) => {
		if (!cell.text.includes(IGNORE) || cell.text.length > BOUNDS.sliceLength) return [];
		return found.of(cell, () => ignoresIn(cell.text).map((one) => ({ ...one, cell, line: inText(cell, one.line) })));
	});
}

/** The same in one slice; all offsets are the slice's. */
function ignoresIn(text: string): readonly Found[] {
	return commentsOf(text).flatMap((span): Found[] => {
		const comment = text.slice(span.from, span.to);
		const parts = /^#[ \t]*lodebook-ignore(?![\w-])[ \t]*([^\s:]*)[ \t]*:?[ \t]*(.*)$/.exec(comment);
		if (!parts) return [];
		const [, code = "", reason = ""] = parts;
		const from = span.from + comment.indexOf(code, comment.indexOf(IGNORE) + IGNORE.length);
		return [
			{
				code,
				reason: reason.trimEnd(),
				span,
				codeSpan: code === "" ? span : { from, to: from + code.length },
				line: lineFor(text, span),
			},
		];
	});
}

/** What the lexer puts in beside the text's own characters: the starts of documents and scalars, ends by an error. */
const MARKS = new Set(["\u0002", "\u0018", "\u001F"]);

/** Where YAML sees comments: a `#` in a text or a block of text is none. */
function commentsOf(text: string): readonly Span[] {
	const comments: Span[] = [];
	let at = 0;
	let isScalar = false;
	for (const token of new Lexer().lex(text)) {
		if (MARKS.has(token)) {
			isScalar = token === "\u001F";
			continue;
		}
		if (!isScalar && token.startsWith("#")) comments.push({ from: at, to: at + token.trimEnd().length });
		isScalar = false;
		at += token.length;
	}
	return comments;
}

/** The line of a comment that stands behind something; else the next one that says something. */
function lineFor(text: string, { from }: Span): Span {
	const own = lineAt(text, from);
	if (text.slice(own.from, from).trim() !== "") return own;
	for (let next = own; next.to < text.length; ) {
		next = lineAt(text, next.to + 1);
		if (!/^\s*(?:#|$)/.test(text.slice(next.from, next.to))) return next;
	}
	return own;
}

/** The line of an offset, without its break. */
export function lineAt(text: string, offset: number): Span {
	const to = text.indexOf("\n", offset);
	return { from: text.lastIndexOf("\n", offset - 1) + 1, to: to < 0 ? text.length : to };
}
