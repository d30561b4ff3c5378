/**
 * A plan's text as the cells of a notebook, and back. Every cell keeps, beside what is shown of it, the exact text it
 * was made from: a cell that was not changed is written back byte for byte, and of a changed one only the lines that
 * differ are new. So text → cells → text is the identity, and a pull request shows the lines that were edited.
 */
import { isMap, isNode, isScalar, visit } from "yaml";
import { scalarText } from "../text/scalar.ts";
import { type Phrase, sentences } from "../text/sentence.ts";
import { sliceStream } from "../text/stream.ts";
import { FILE_BOUNDS } from "./bounds.ts";
import { parseWithinBounds } from "./parse.ts";

/** A slice of the text in three: joined, they are the slice again. */
export interface Kept {
	/** A byte-order mark and a bare `---` line, if the slice starts with them. */
	readonly lead: string;
	readonly body: string;
	/** Line breaks and blank lines at the end, and a `...` line among them. */
	readonly tail: string;
}

export interface NotebookCell {
	/** A `note` that Markdown can stand for is shown as Markdown; every other slice as YAML. */
	readonly kind: "yaml" | "note";
	/** What stands in the cell: no marker before it, no blank lines after it. */
	readonly shown: string;
	/** What it was made from; a cell that was added has nothing. */
	readonly kept: Kept | undefined;
}

/** What a text has as a whole. */
export interface NotebookFrame {
	/** It starts with a byte-order mark. */
	readonly mark: boolean;
	/** What new lines end with. */
	readonly lineEnd: "\n" | "\r\n";
}

export interface Notebook extends NotebookFrame {
	readonly cells: readonly NotebookCell[];
}

const words = sentences("plan.notebook", {
	binary: "The file contains NUL characters, so it is not UTF-8 text. Save it as UTF-8.",
	tooLong: "The file has {length} characters; the limit for a plan is {most}. It opens as text only.",
	tooMany: "The file has {count} cells; the limit for a plan is {most}. It opens as text only.",
});

export type NotebookOutcome =
	| { readonly ok: true; readonly notebook: Notebook }
	| { readonly ok: false; readonly why: Phrase };

/** The cells of a text; one that is no plan (too long, too many documents, binary) is refused in words. */
export function notebookOf(text: string): NotebookOutcome {
	if (text.includes("\0")) return { ok: false, why: words.binary() };
	if (text.length > FILE_BOUNDS.length)
		return {
			ok: false,
			why: words.tooLong({ length: text.length, most: FILE_BOUNDS.length }),
		};
	const mark = text.startsWith(MARK);
	const slices = sliceStream(mark ? text.slice(1) : text);
	if (slices.length > FILE_BOUNDS.cells)
		return {
			ok: false,
			why: words.tooMany({ count: slices.length, most: FILE_BOUNDS.cells }),
		};
	const breaks = text.split("\n").length - 1;
	const lineEnd = (text.split("\r\n").length - 1) * 2 > breaks ? "\r\n" : "\n";
	return { ok: true, notebook: { mark, lineEnd, cells: slices.map(({ text: slice }) => cellOf(keptOf(slice))) } };
}

export interface NotebookText {
	readonly text: string;
	/** For each cell the offset at which what is shown of it begins, and how far its lines are indented there. */
	readonly places: readonly { readonly start: number; readonly end: number; readonly indent: number }[];
}

/** The text of cells as they stand now: new, changed, moved or as they were. */
export function textOfNotebook(cells: readonly NotebookCell[], { mark, lineEnd }: NotebookFrame): NotebookText {
	let text = "";
	const places: { start: number; end: number; indent: number }[] = [];
	cells.forEach((cell, i) => {
		const { lead, head, body, indent, tail } = writtenCell(cell, lineEnd);
		if (i > 0 && text !== "" && !text.endsWith("\n") && !text.endsWith("\r")) text += lineEnd;
		text += i > 0 ? `${markerBefore(lead + head + body, lastLineOf(text), lineEnd)}${lead}` : lead;
		const start = text.length + head.length;
		text += head + body;
		places.push({ start, end: text.length, indent });
		text += tail;
	});
	if (!mark) return { text, places };
	return {
		text: MARK + text,
		places: places.map(({ start, end, indent }) => ({ start: start + 1, end: end + 1, indent })),
	};
}

const MARK = "\uFEFF";
const LEAD = /^\uFEFF*(?:---[ \t]*(?:\r\n|\n|\r|$)\uFEFF*)?/;

/** What a cell's metadata keeps, from whatever was given. */
export function readKept(given: unknown): Kept | undefined {
	const { lead, body, tail } = (typeof given === "object" && given !== null ? given : {}) as Partial<Kept>;
	return typeof lead === "string" && typeof body === "string" && typeof tail === "string"
		? { lead, body, tail }
		: undefined;
}

/** What a notebook's metadata tells of its text, from whatever was given. */
export function readFrame(given: unknown): NotebookFrame {
	const { mark, lineEnd } = (typeof given === "object" && given !== null ? given : {}) as Partial<NotebookFrame>;
	return { mark: mark === true, lineEnd: lineEnd === "\r\n" ? lineEnd : "\n" };
}

interface Line {
	readonly text: string;
	/** Its line break; none on the last line. */
	readonly end: string;
}

function linesOf(text: string): readonly Line[] {
	const lines: Line[] = [];
	let from = 0;
	for (const { 0: end, index } of text.matchAll(/\r\n|\n|\r/g)) {
		lines.push({ text: text.slice(from, index), end });
		from = index + end.length;
	}
	lines.push({ text: text.slice(from), end: "" });
	return lines;
}

const textOf = (lines: readonly Line[]): string => lines.map(({ text, end }) => text + end).join("");
const withLf = (text: string): string => text.replace(/\r\n?/g, "\n");
const isBlank = ({ text }: Line): boolean => /^[ \t]*$/.test(text);

function keptOf(slice: string): Kept {
	const lead = LEAD.exec(slice)?.[0] ?? "";
	const lines = linesOf(slice.slice(lead.length));
	let last = lines.length;
	const dropBlank = (): void => {
		while (last > 0 && isBlank(lines[last - 1] as Line)) last--;
	};
	dropBlank();
	if (last > 0 && /^\.\.\.[ \t]*$/.test((lines[last - 1] as Line).text)) {
		last--;
		dropBlank();
	}
	const body = textOf(lines.slice(0, last));
	const end = last > 0 ? (lines[last - 1] as Line).end : "";
	return { lead, body: body.slice(0, body.length - end.length), tail: end + textOf(lines.slice(last)) };
}

function cellOf(kept: Kept): NotebookCell {
	const note = noteOf(kept.body);
	return note ? { kind: "note", shown: note.shown, kept } : { kind: "yaml", shown: withLf(kept.body), kept };
}

/** A cell's text: `head` is what stands before what is shown (`note: |`), `body` the rest. */
interface Written {
	readonly lead: string;
	readonly head: string;
	readonly body: string;
	readonly indent: number;
	readonly tail: string;
}

function writtenCell(cell: NotebookCell, lineEnd: string): Written {
	const { kind, shown } = cell;
	const kept = cell.kept ?? { lead: "", body: "", tail: lineEnd };
	// A cell that was empty is parted from what stands before and after it.
	const lead = shown !== "" && /---[ \t]*$/.test(kept.lead) ? kept.lead + lineEnd : kept.lead;
	const tail = kept.body === "" && shown !== "" && !/^[\r\n]/.test(kept.tail) ? lineEnd + kept.tail : kept.tail;
	if (kind === "yaml")
		return { lead, tail, head: "", indent: 0, body: merged(linesOf(kept.body), kept.body, shown, "", lineEnd) };
	const note = noteOf(kept.body);
	if (note?.block) {
		const { head, lines, indent } = note.block;
		const body = merged(lines, note.shown, shown, " ".repeat(indent), lineEnd);
		// Without an indicator the first line tells the indentation, and it must not begin with a space of its own.
		if (same(note.shown, shown)) return { lead, tail, head, body, indent };
		const header = startsIndented(shown) && !/\d/.test(head) ? head.replace("|", `|${indent}`) : head;
		return { lead, tail, head: /[\r\n]$/.test(header) ? header : header + lineEnd, body, indent };
	}
	if (note && same(note.shown, shown)) return { lead, tail, head: "", body: kept.body, indent: 0 };
	// Characters that a block must not hold are written as escapes.
	if (UNPRINTABLE.test(shown))
		return { lead, tail, head: "note: ", body: scalarText(withLf(shown), { old: `"` }), indent: 0 };
	const head = `note: |${startsIndented(shown) ? INDENT : ""}${lineEnd}`;
	return { lead, tail, head, body: merged([], "", shown, " ".repeat(INDENT), lineEnd), indent: INDENT };
}

const INDENT = 2;
const UNPRINTABLE = /[^\t\n\r\x20-\x7E\x85\xA0-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]/u;
const startsIndented = (shown: string): boolean => /^(?:[ \t]*[\r\n])* /.test(shown) || /^[ \t]+[\r\n]/.test(shown);
/** An editor's text buffer has its own line breaks and no byte-order mark. */
const same = (a: string, b: string): boolean => withLf(a).replace(/^\uFEFF+/, "") === withLf(b).replace(/^\uFEFF+/, "");

/** The old lines with those replaced that are not the same any more; line breaks of lines that stay, stay. */
function merged(old: readonly Line[], oldShown: string, shown: string, indent: string, lineEnd: string): string {
	if (same(oldShown, shown)) return textOf(old);
	const before = withLf(oldShown).split("\n");
	const now = withLf(shown).split("\n");
	const most = Math.min(before.length, now.length, old.length);
	let [first, last] = [0, 0];
	while (first < most && before[first] === now[first]) first++;
	while (last < most - first && before[before.length - 1 - last] === now[now.length - 1 - last]) last++;
	const middle = now
		.slice(first, now.length - last)
		.map((text): Line => ({ text: text === "" ? "" : indent + text, end: lineEnd }));
	const lines = [...old.slice(0, first), ...middle, ...old.slice(old.length - last)];
	return lines.map(({ text, end }, i) => text + (i === lines.length - 1 ? "" : end || lineEnd)).join("");
}

/** The header of a literal block, with its indicators of indentation and of line breaks at the end in either order. */
const LITERAL = /^note:[ \t]+\|(?:[+-]?([1-9])?|([1-9])[+-])[ \t]*$/;

interface Note {
	readonly shown: string;
	/** A literal block, whose lines stand for the lines shown; other forms are written anew when they are changed. */
	readonly block: { readonly head: string; readonly lines: readonly Line[]; readonly indent: number } | undefined;
}

/** A body that is one `note` and nothing else that Markdown could not show: no comment outside of it, no anchor, no tag. */
function noteOf(body: string): Note | undefined {
	if (!/^note[ \t]*:/.test(body)) return undefined;
	const [header, ...lines] = linesOf(body);
	const literal = header && LITERAL.exec(header.text);
	if (header && literal) {
		const first = lines.find((line) => !isBlank(line));
		const told = literal[1] ?? literal[2];
		const indent = told ? Number(told) : first ? (/^ */.exec(first.text)?.[0].length ?? 0) : INDENT;
		const prefix = " ".repeat(indent);
		if (
			indent === 0 ||
			!lines.every((line) => line.text.startsWith(prefix) || (isBlank(line) && !line.text.includes("\t")))
		)
			return undefined;
		if (!told && first && lines.slice(0, lines.indexOf(first)).some(({ text }) => text.length > indent))
			return undefined;
		return {
			shown: lines.map(({ text }) => text.slice(indent)).join("\n"),
			block: { head: header.text + header.end, lines, indent },
		};
	}
	const document = parseWithinBounds(body);
	if (!document) return undefined;
	const { contents, comment, commentBefore } = document;
	if (
		document.errors.length > 0 ||
		document.warnings.length > 0 ||
		!isMap(contents) ||
		contents.items.length !== 1 ||
		comment ||
		commentBefore
	)
		return undefined;
	const value = contents.items[0]?.value;
	if (!isScalar(value) || typeof value.value !== "string") return undefined;
	let bare = true;
	visit(document, (_, node) => {
		if (
			isNode(node) &&
			(node.comment || node.commentBefore || node.tag?.startsWith("!") || (isScalar(node) && node.anchor))
		)
			bare = false;
	});
	return bare ? { shown: withLf(value.value).replace(/\n$/, ""), block: undefined } : undefined;
}

/** The last line of a text, without its line break. */
function lastLineOf(text: string): string {
	const end = text.endsWith("\r\n") ? text.length - 2 : text.endsWith("\n") ? text.length - 1 : text.length;
	return end === 0 ? "" : text.slice(text.lastIndexOf("\n", end - 1) + 1, end);
}

/** What must stand between a text that ends with a line and the cell after it, so that they are two documents. */
function markerBefore(cell: string, lastLine: string, lineEnd: string): string {
	if (/^\uFEFF*---(?![^ \t\r\n])/.test(cell)) return "";
	if (/^\.\.\.(?![^ \t\r])/.test(lastLine)) return "";
	// Directives, and a marker after comments, can only stand after an end of document.
	const first = linesOf(cell).find((line) => !isBlank(line) && !/^[ \t]*#/.test(line.text))?.text ?? "";
	return /^(?:%|---(?:[ \t]|$))/.test(first) ? `...${lineEnd}` : `---${lineEnd}`;
}
