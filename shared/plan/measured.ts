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

/** What becomes of comments when the list they belong to is replaced. */
export interface OldComments {
	/** One behind the old value or inside it: what is to be said above the new one instead, if anything. */
	readonly within: (comment: string) => string | undefined;
	/** Whether one on a line of its own above the key is true of the old value alone. */
	readonly isOver: (comment: string) => boolean;
}

/** Puts a list at a key of a cell in place of the one that is there. None where nothing can be put there. */
export function setMeasured(
	cell: Cell,
	key: string,
	{ items, comments }: MeasuredList,
	old: OldComments,
): readonly TextEdit[] {
	const place = cell.read.places.get(key);
	if (!place?.key) return appendKey(cell, key, items, comments);
	const { text } = cell;
	const lineStart = text.lastIndexOf("\n", place.key.from - 1) + 1;
	const indent = text.slice(lineStart, place.key.from);
	const isBlock = /^[ ]*$/.test(indent) && !flowAt(cell, place.key.from);
	const list = isBlock ? flowLines(items, indent, lineBreakOf(text)).trimStart() : flowList(items);
	const value = replaceValue(cell, key, asYaml(list));
	if (!value) return [];
	const { edit, found } = withItsComments(cell, place, value);
	const kept = found.flatMap((comment) => {
		const said = /^lodebook-/.test(comment) ? comment : old.within(comment);
		return said === undefined ? [] : [said];
	});
	const above = isBlock ? ownLinesAbove(text, lineStart, old.isOver) : [];
	return [
		...above.map((line) => ({ ...inText(cell, line), text: "" })),
		...commentAbove(cell, place, [...comments, ...kept]),
		edit,
	];
}

/** An edit of a key's value made wide enough to take the comments behind the key, inside the value and behind it. */
function withItsComments(
	cell: Cell,
	{ key, value, whole }: Place,
	{ text: written }: TextEdit,
	{ inBraces = false } = {},
): { readonly edit: TextEdit; readonly found: readonly string[] } {
	const { text } = cell;
	const { from, to } = whole ?? value;
	const end = from + text.slice(from, to).trimEnd().length;
	const rest = text.slice(end, lineEndOf(text, end));
	const [, closed = "", last = ""] =
		(inBraces ? /^([ \t},]*)[ \t]#([^\r\n]*)/ : /^([ \t]*,?)[ \t]+#([^\r\n]*)/).exec(rest) ?? [];
	// A value that begins on a line below its key comes to be behind the key.
	const colon = key && /^["']?[ \t]*:(?=[ \t]*(?:#[^\n]*)?\r?\n)/.exec(text.slice(key.to, from));
	const start = key && colon ? key.to + colon[0].length : from;
	const inside = [...text.slice(start, end).matchAll(/(?:^|[ \t])#([^\r\n]*)/gm)].map(([, comment = ""]) => comment);
	const until = last === "" ? to : lineEndOf(text, end) - (text[lineEndOf(text, end) - 1] === "\r" ? 1 : 0);
	return {
		edit: {
			...inText(cell, { from: start, to: until }),
			text: `${colon ? " " : ""}${written.trimStart()}${last === "" ? "" : closed.trimEnd()}`,
		},
		found: [...inside, last].map((comment) => comment.trim()).filter((comment) => comment !== ""),
	};
}

const lineEndOf = (text: string, from: number): number => {
	const at = text.indexOf("\n", from);
	return at < 0 ? text.length : at;
};

/** Comment lines right above a line that are chosen, with their line breaks. */
function ownLinesAbove(text: string, lineStart: number, isChosen: (comment: string) => boolean) {
	const lines: { readonly from: number; readonly to: number }[] = [];
	for (let to = lineStart; to > 0; ) {
		const from = text.lastIndexOf("\n", to - 2) + 1;
		const comment = /^[ \t]*#([^\r\n]*)/.exec(text.slice(from, to))?.[1];
		if (comment === undefined) break;
		if (isChosen(comment.trim())) lines.unshift({ from, to });
		to = from;
	}
	return lines;
}

/** Puts a list, as YAML, in place of one inside an entry; comments behind the old one or inside it go with it. */
export function replaceMeasured(cell: Cell, path: string, list: string): TextEdit | undefined {
	const place = cell.read.places.get(path);
	const value = place && replaceValue(cell, path, asYaml(list));
	return value && withItsComments(cell, place, value, { inBraces: true }).edit;
}

/** Comments above a key that is there, in place of those that are chosen. */
export function sayAbove(
	cell: Cell,
	key: string,
	comments: readonly string[],
	isOver: OldComments["isOver"],
): readonly TextEdit[] {
	const place = cell.read.places.get(key);
	if (!place?.key) return [];
	const said = commentAbove(cell, place, comments);
	const lineStart = cell.text.lastIndexOf("\n", place.key.from - 1) + 1;
	return said.length === 0
		? []
		: [...ownLinesAbove(cell.text, lineStart, isOver).map((line) => ({ ...inText(cell, line), text: "" })), ...said];
}

/** Leaves out comments above an entry of a list that are chosen. */
export function leaveAbove(cell: Cell, path: string, isChosen: OldComments["isOver"]): readonly TextEdit[] {
	const place = cell.read.places.get(path);
	if (!place) return [];
	const { from } = place.whole ?? place.value;
	const lineStart = cell.text.lastIndexOf("\n", from - 1) + 1;
	if (!/^[ ]*-[ ]*$/.test(cell.text.slice(lineStart, from))) return [];
	return ownLinesAbove(cell.text, lineStart, isChosen).map((line) => ({ ...inText(cell, line), text: "" }));
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
