/**
 * Formatting: clock times quoted, colons behind their keys, white space at line ends taken off, one line break at the end. Comments, order, quotes
 * and flow style stay as they are; what does not parse is left alone. Formatting what is formatted changes nothing.
 *
 * Nothing is taken on trust: what the formatted text says is compared with what the text said, and where they differ
 * nothing is formatted.
 */
import { isScalar, visit } from "yaml";
import { applyEdits, editsOnce, type TextEdit } from "../text/edits.ts";
import { type Phrase, sentences } from "../text/sentence.ts";
import type { Span } from "../text/span.ts";
import { sliceStream } from "../text/stream.ts";
import { modelAt } from "./field-at.ts";
import { parseSlice } from "./parse.ts";
import { type Cell, readPlan } from "./plan.ts";
import type { ProblemType } from "./problem.ts";
import { saysTheSame } from "./says-the-same.ts";

const words = sentences("plan.format", {
	conflict: "it contains merge conflict markers",
	tooLong: "it is too long for a plan",
	tooMany: "it has too many cells for a plan",
	binary: "it contains NUL characters, so it is not UTF-8 text",
	differs: "formatting would change its meaning",
});

/** The edits that format a plan, none when it is formatted; or why it is left as it is. */
export type Formatting =
	| { readonly ok: true; readonly edits: readonly TextEdit[] }
	| { readonly ok: false; readonly why: Phrase };

const refused = (why: Phrase): Formatting => ({ ok: false, why });

export function formatting(text: string): Formatting {
	const { cells, cut } = readPlan(text);
	if (cut)
		return refused({ length: words.tooLong, marks: words.tooLong, cells: words.tooMany, binary: words.binary }[cut]());
	if (cells.some((cell) => has(cell, "conflict-marker"))) return refused(words.conflict());
	const parse = remembered(parseSlice);
	const edits = editsOf(text, cells, parse);
	if (edits.length === 0) return { ok: true, edits };
	return keepsMeaning(text, applyEdits(text, edits), parse) ? { ok: true, edits } : refused(words.differs());
}

/** The edits that format a plan; none where it is left as it is. */
export function formatEdits(text: string): readonly TextEdit[] {
	const result = formatting(text);
	return result.ok ? result.edits : [];
}

/** Cells that are left as they are because they do not parse. */
export const unparsed = (text: string): readonly Cell[] => readPlan(text).cells.filter(isBroken);

/** The text as formatting leaves it. */
export const format = (text: string): string => applyEdits(text, formatEdits(text));

const has = ({ read }: Cell, ...types: readonly ProblemType[]): boolean =>
	read.problems.some(({ type }) => types.includes(type));
const isBroken = (cell: Cell): boolean => has(cell, "yaml", "conflict-marker", "too-much");

type Parse = typeof parseSlice;

/** Each slice is parsed once for all that is asked of it while a text is formatted. */
function remembered(parse: Parse): Parse {
	const parsed = new Map<string, ReturnType<Parse>>();
	return (text) => {
		const known = parsed.get(text) ?? parse(text);
		parsed.set(text, known);
		return known;
	};
}

function editsOf(text: string, cells: readonly Cell[], parse: Parse): readonly TextEdit[] {
	const sound = cells.filter((cell) => !isBroken(cell));
	const edits = editsOnce(
		sound.flatMap((cell) => [...quoteClocks(cell), ...closeColons(cell, parse), ...trimLines(cell, parse)]),
	);
	const last = cells[cells.length - 1];
	const end = last && !isBroken(last) ? endOfText(text, last, parse) : undefined;
	return end ? [...edits.filter(({ to }) => to <= end.from), end] : edits;
}

function quoteClocks(cell: Cell): readonly TextEdit[] {
	const { kind, places } = cell.read;
	if (!kind) return [];
	return [...places].flatMap(([path, { value, source }]): readonly TextEdit[] => {
		if (source === undefined || !modelAt(kind, path)?.shape.quoted?.(source)) return [];
		if (cell.text.slice(value.from, value.to) !== source) return [];
		return [{ from: cell.start + value.from, to: cell.start + value.to, text: `"${source}"` }];
	});
}

/** Blanks between a key and its colon. */
function closeColons(cell: Cell, parse: Parse): readonly TextEdit[] {
	const edits: TextEdit[] = [];
	if (!/[ \t]:(?:\s|$)/.test(cell.text)) return edits;
	visit(parse(cell.text), {
		Pair(_, { key }) {
			const end = isScalar(key) ? key.range?.[1] : undefined;
			const [blanks = ""] =
				end === undefined ? [] : (/^[ \t]+(?=:)/.exec(cell.text.slice(end, end + MOST_BLANKS)) ?? []);
			if (end === undefined || blanks === "") return;
			edits.push({ from: cell.start + end, to: cell.start + end + blanks.length, text: "" });
		},
	});
	return edits;
}

/** More blanks before a colon than anybody types. */
const MOST_BLANKS = 200;

/** White space at the ends of lines, but not inside of values that go over several lines, where it may be meant. */
function trimLines(cell: Cell, parse: Parse): readonly TextEdit[] {
	if (cell.read.kind === "note" || cell.read.kind === undefined) return [];
	const blanks = blanksAtEnds(cell.text);
	if (blanks.length === 0) return [];
	const scalars = longScalars(cell.text, parse);
	let next = 0;
	return blanks.flatMap(({ from, to }) => {
		while (next < scalars.length && (scalars[next] as Span).to <= from) next++;
		const scalar = scalars[next];
		return scalar && scalar.from < to ? [] : [{ from: cell.start + from, to: cell.start + to, text: "" }];
	});
}

/** Blanks and tabs before a line feed, or before a carriage return and a line feed, or before the end. */
function blanksAtEnds(text: string): readonly Span[] {
	const found: Span[] = [];
	for (let start = 0; start <= text.length; ) {
		const feed = text.indexOf("\n", start);
		const end = feed === -1 ? text.length : feed;
		const to = feed > start && text[feed - 1] === "\r" ? feed - 1 : end;
		let from = to;
		while (from > start && (text[from - 1] === " " || text[from - 1] === "\t")) from--;
		if (from < to) found.push({ from, to });
		start = end + 1;
	}
	return found;
}

/** Where scalars stand that go over several lines, in the order of the text. */
function longScalars(text: string, parse: Parse): readonly Span[] {
	const found: Span[] = [];
	visit(parse(text), {
		Scalar(_, { range }) {
			if (range && text.slice(range[0], range[2]).includes("\n")) found.push({ from: range[0], to: range[1] });
		},
	});
	return found.sort((a, b) => a.from - b.from);
}

/** One line break after the last line that holds anything; blanks at the end of that line are not its business. */
function endOfText(text: string, last: Cell, parse: Parse): TextEdit | undefined {
	const content = contentEnd(text);
	// A carriage return alone is text; with a line feed after it, it would be a line break.
	if (content === 0 || text[content - 1] === "\r") return undefined;
	const newline = text.includes("\r\n") ? "\r\n" : "\n";
	const feed = text.indexOf("\n", content);
	const from = feed === -1 ? text.length : text[feed - 1] === "\r" ? feed - 1 : feed;
	if (text.slice(from) === newline) return undefined;
	// What follows may be meant by a block scalar.
	if (feed !== -1 && reachesEnd(last.text, from - last.start, parse)) return undefined;
	return { from, to: text.length, text: newline };
}

/** Where the text ends but for blanks and line breaks. */
function contentEnd(text: string): number {
	let end = text.length;
	for (; end > 0; end--) {
		const char = text[end - 1];
		if (char === "\r" ? text[end] !== "\n" : char !== "\n" && char !== " " && char !== "\t") break;
	}
	return end;
}

/** Whether a block scalar goes on to an offset behind which only white space stands. */
function reachesEnd(text: string, offset: number, parse: Parse): boolean {
	let reaches = false;
	visit(parse(text), {
		Scalar(_, { type, range }) {
			const block = type === "BLOCK_LITERAL" || type === "BLOCK_FOLDED";
			if (!block || !range || range[2] < offset) return;
			const header = text.slice(range[0], range[0] + 3);
			if (header.includes("+") || /[ \t]/.test(text.slice(offset, range[1]))) reaches = true;
		},
	});
	return reaches;
}

/** Whether two texts have the same cells, and each says the same. */
function keepsMeaning(before: string, after: string, parse: Parse): boolean {
	const [one, other] = [sliceStream(before), sliceStream(after)];
	return (
		one.length === other.length &&
		one.every(({ text }, i) => {
			const now = other[i]?.text as string;
			return text === now || saysTheSame(parse(text), parse(now));
		})
	);
}
