/**
 * Edits that put what was measured into a cell: keys whose values are lists over several lines, with comments above them
 * that say where they are from.
 */
import type { TextEdit } from "../text/edits.ts";
import { asYaml } from "../text/scalar.ts";
import { appendItem, insertKey, lineBreakOf, replaceValue } from "./cell-edits.ts";
import { type Place, placesBelow } from "./places.ts";
import { type Cell, inText } from "./plan.ts";

/** A value that is written as a flow list over lines of some length. */
export interface MeasuredList {
	readonly items: readonly string[];
	/** Lines above it, without their `# `. */
	readonly comments: readonly string[];
}

/** Adds entries to the list at a key of a cell, or the key with them. None where nothing can be put there. */
export function addMeasured(cell: Cell, key: string, { items, comments }: MeasuredList): readonly TextEdit[] {
	const place = cell.read.places.get(key);
	if (!place) return appendKey(cell, key, items, comments, { block: true });
	const [first] = items;
	if (first === undefined) return [];
	const appended = appendItem(cell, key, "\0");
	if (!appended) {
		const value = replaceValue(cell, key, asYaml(flowList(items)));
		return value ? [...commentAbove(cell, place, comments), value] : [];
	}
	// Among the entries of a block each comment has a line of its own; else it goes above the key.
	const dash = /^(\r?\n[ ]*)- \0$/.exec(appended.text)?.[1];
	if (dash === undefined)
		return [...commentAbove(cell, place, comments), { ...appended, text: `, ${items.join(", ")}` }];
	const lines = [...comments.map((comment) => `# ${comment}`), ...items.map((item) => `- ${item}`)];
	return [{ ...appended, text: lines.map((line) => dash + line).join("") }];
}

const flowList = (items: readonly string[]): string => `[${items.join(", ")}]`;

const LINE = 110;

/** A flow list on lines of their own below its key. */
function flowLines(items: readonly string[], indent: string, newline = "\n"): string {
	const lines: string[] = [];
	let line = `${indent}  [`;
	for (const [i, item] of items.entries()) {
		const piece = `${item}${i < items.length - 1 ? "," : "]"}`;
		if (line.length + piece.length > LINE && i > 0) {
			lines.push(line.trimEnd());
			line = `${indent}   `;
		}
		line += `${piece} `;
	}
	return `${newline}${[...lines, line.trimEnd()].join(newline)}`;
}

/** The value of a key as it is printed for a plan, with its comments above it. */
export const measuredText = (key: string, { items, comments }: MeasuredList): string =>
	`${comments.map((comment) => `# ${comment}\n`).join("")}${key}:${flowLines(items, "")}\n`;

/** Puts comments above a key that begins a line. */
function commentAbove(cell: Cell, { key }: Place, comments: readonly string[]): readonly TextEdit[] {
	if (!key) return [];
	const lineStart = cell.text.lastIndexOf("\n", key.from - 1) + 1;
	const indent = cell.text.slice(lineStart, key.from);
	// In a flow mapping a comment would swallow what follows it.
	if (flowAt(cell, key.from) || !/^[ ]*$/.test(indent)) return [];
	const newline = lineBreakOf(cell.text);
	return [
		{
			...inText(cell, { from: lineStart, to: lineStart }),
			text: comments.map((comment) => `${indent}# ${comment}${newline}`).join(""),
		},
	];
}

/** Whether a key at a place belongs to a mapping in braces: something other than blanks is in front of it on its line, or a brace above. */
function flowAt(cell: Cell, from: number): boolean {
	const last = cell.text.slice(0, from).trimEnd().slice(-1);
	return last === "{" || last === ",";
}

/** Adds a key behind the last of a cell's own keys. */
function appendKey(
	cell: Cell,
	key: string,
	items: readonly string[],
	comments: readonly string[],
	{ block = false } = {},
): readonly TextEdit[] {
	let last: Place | undefined;
	for (const [path, place] of placesBelow(cell.read.places, ""))
		if (path !== "" && !path.includes(".") && place.key) last = place;
	if (!last?.key) return [];
	const column = cell.text.slice(cell.text.lastIndexOf("\n", last.key.from - 1) + 1, last.key.from);
	if (flowAt(cell, last.key.from) || !/^[ ]*$/.test(column)) {
		const edit = insertKey(cell, "", key, asYaml(flowList(items)));
		return edit ? [edit] : [];
	}
	const { from, to } = last.whole ?? last.value;
	const end = Math.max(from, from + cell.text.slice(from, to).trimEnd().length);
	const lineEnd = cell.text.indexOf("\n", end);
	const at = lineEnd < 0 ? cell.text.length : cell.text[lineEnd - 1] === "\r" ? lineEnd - 1 : lineEnd;
	const newline = lineBreakOf(cell.text);
	const said = comments.map((comment) => `${newline}${column}# ${comment}`).join("");
	const value = block
		? items.map((item) => `${newline}${column}  - ${item}`).join("")
		: flowLines(items, column, newline);
	return [{ ...inText(cell, { from: at, to: at }), text: `${said}${newline}${column}${key}:${value}` }];
}
