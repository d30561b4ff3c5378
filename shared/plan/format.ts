/**
 * Formatting: clock times quoted, white space at line ends taken off, one blank after `:` and before comments, document
 * markers alone on their line, one line break at the end. Comments, order, quotes and flow style stay as they are; what
 * does not parse is left alone. Formatting what is formatted changes nothing.
 */
import { applyEdits, type TextEdit } from "../text/edits.ts";
import { modelAt } from "./field-at.ts";
import { type Cell, readPlan } from "./plan.ts";

/** The edits that format a plan; none when it is formatted. */
export function formatEdits(text: string): readonly TextEdit[] {
	const { cells, cut } = readPlan(text);
	if (cut) return [];
	const edits: TextEdit[] = [];
	for (const cell of cells) {
		const broken = cell.read.problems.some(
			({ type }) => type === "yaml" || type === "conflict-marker" || type === "too-much",
		);
		if (!broken) edits.push(...quoteClocks(cell), ...trimLines(cell));
	}
	const last = cells[cells.length - 1];
	if (!last || text.trim() === "" || last.read.problems.some(({ type }) => type === "yaml")) return edits;
	const end = endOfText(text);
	return end ? [...edits.filter(({ to }) => to <= end.from), end] : edits;
}

/** The text as formatting leaves it. */
export const format = (text: string): string => applyEdits(text, formatEdits(text));

function quoteClocks(cell: Cell): readonly TextEdit[] {
	const { kind, places } = cell.read;
	if (!kind) return [];
	return [...places].flatMap(([path, { value, source }]): readonly TextEdit[] => {
		if (source === undefined || !modelAt(kind, path)?.shape.quoted?.(source)) return [];
		if (cell.text.slice(value.from, value.to) !== source) return [];
		return [{ from: cell.start + value.from, to: cell.start + value.to, text: `"${source}"` }];
	});
}

/** White space at the ends of lines, but not inside block scalars and quotes, where it may be meant. */
function trimLines(cell: Cell): readonly TextEdit[] {
	if (cell.read.kind === "note" || cell.read.kind === undefined) return [];
	const edits: TextEdit[] = [];
	const pattern = /[ \t]+(?=\r?$)/gm;
	const multiline = [...cell.read.places]
		.filter(([, { source }]) => source?.includes("\n"))
		.map(([, { value }]) => value.from);
	if (multiline.length > 0) return [];
	for (let match = pattern.exec(cell.text); match; match = pattern.exec(cell.text)) {
		edits.push({ from: cell.start + match.index, to: cell.start + match.index + match[0].length, text: "" });
	}
	return edits;
}

/** One line break after the last line that holds anything; blanks at the end of that line are not its business. */
function endOfText(text: string): TextEdit | undefined {
	// Blank lines at the end of a note may be meant by its block scalar.
	if (/[|>]\d?[+]/.test(text)) return undefined;
	const newline = text.includes("\r\n") ? "\r\n" : "\n";
	const feed = text.indexOf("\n", text.trimEnd().length);
	const from = feed === -1 ? text.length : text[feed - 1] === "\r" ? feed - 1 : feed;
	return text.slice(from) === newline ? undefined : { from, to: text.length, text: newline };
}
