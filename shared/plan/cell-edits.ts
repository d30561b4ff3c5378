/** Edits of a plan's text that set a value, put a key in, or add a cell. What they write reads back as it was given. */
import { beforeKey, entryText } from "../text/before-key.ts";
import { applyEdits, EditsRefused, type TextEdit } from "../text/edits.ts";
import { type Given, written } from "../text/scalar.ts";
import { type Place, placesBelow } from "./places.ts";
import { type Cell, inText, type Plan, readPlan } from "./plan.ts";
import type { Problem } from "./problem.ts";

/** Replaces the value at a path: all of it, however many lines it goes over. Undefined where the text has none there. */
export function replaceValue(cell: Cell, path: string, value: Given): TextEdit | undefined {
	const place = cell.read.places.get(path);
	if (!place) return undefined;
	const { from, to } = place.whole ?? place.value;
	const text = written(value, { flow: place.flow, old: cell.text.slice(from, to) });
	// What began on a line below its key, as a list may at the key's own column, is written behind the key.
	const between = place.key && cell.text.slice(place.key.to, from);
	const colon = between?.includes("\n") ? /^["']?[ \t]*:(?=\s*$)/.exec(between) : undefined;
	if (!place.key || !colon) return { ...inText(cell, { from, to }), text };
	return { ...inText(cell, { from: place.key.to + colon[0].length, to }), text: ` ${text}` };
}

/** Replaces what a problem lies in with what belongs there. */
export function replaceWrong(cell: Cell, problem: Problem, value: Given): TextEdit {
	const { from, to } = problem.whole ?? problem;
	// Whether it stands in a flow collection is not known: what is plain there is plain everywhere.
	return { ...inText(cell, { from, to }), text: written(value, { flow: true, old: cell.text.slice(from, to) }) };
}

/** What a text's lines end with. */
export const lineBreakOf = (text: string): string => (text.includes("\r\n") ? "\r\n" : "\n");

/** Puts a key in front of the first key of the mapping at a path; undefined for an empty or missing mapping. */
export function insertKey(cell: Cell, path: string, key: string, value: Given): TextEdit | undefined {
	const prefix = path === "" ? "" : `${path}.`;
	for (const [childPath, place] of placesBelow(cell.read.places, path)) {
		if (childPath === "" || !childPath.startsWith(prefix) || childPath.slice(prefix.length).includes(".") || !place.key)
			continue;
		return insertBefore(cell, place, key, value);
	}
	return undefined;
}

/** Puts a key in front of another one; undefined where nothing can be put there. */
export function insertBefore(cell: Cell, other: Place, key: string, value: Given): TextEdit | undefined {
	if (!other.key) return undefined;
	const { insertAt, indent } = beforeKey(cell.text, other.key.from, other.flow);
	if (insertAt === undefined) return undefined;
	const entry = `${key}: ${written(value, { flow: other.flow })}`;
	return { ...inText(cell, { from: insertAt, to: insertAt }), text: entryText(entry, indent, lineBreakOf(cell.text)) };
}

/** Replaces a value, or puts the key in when it is not there. */
export function setKey(cell: Cell, path: string, key: string, value: Given): TextEdit | undefined {
	const full = path === "" ? key : `${path}.${key}`;
	return cell.read.places.has(full) ? replaceValue(cell, full, value) : insertKey(cell, path, key, value);
}

/** Puts an item of YAML behind the last one of the list at a path; undefined where the text has no list with items there. */
export function appendItem(cell: Cell, path: string, item: string): TextEdit | undefined {
	let last: Place | undefined;
	for (const [itemPath, place] of placesBelow(cell.read.places, path))
		if (/^\d+$/.test(path === "" ? itemPath : itemPath.slice(path.length + 1))) last = place;
	if (!last) return undefined;
	const { from, to } = last.whole ?? last.value;
	const end = from + cell.text.slice(from, to).trimEnd().length;
	if (last.flow) return { ...inText(cell, { from: end, to: end }), text: `, ${item}` };
	const before = cell.text.slice(cell.text.lastIndexOf("\n", from - 1) + 1, from);
	const indent = /^([ ]*)-[ \t]+$/.exec(before)?.[1];
	if (indent === undefined) return undefined;
	// A comment behind the last item stays with it.
	const lineEnd = cell.text.indexOf("\n", end);
	const at = lineEnd < 0 ? cell.text.length : cell.text[lineEnd - 1] === "\r" ? lineEnd - 1 : lineEnd;
	return { ...inText(cell, { from: at, to: at }), text: `${lineBreakOf(cell.text)}${indent}- ${item}` };
}

/** Puts a new cell at the end of the plan. */
export function appendCell(plan: Plan, text: string): TextEdit {
	const { length } = plan.text;
	const newline = lineBreakOf(plan.text);
	const start = length === 0 || plan.text.endsWith("\n") ? "" : newline;
	const marker = plan.text.trim() === "" ? "" : `---${newline}`;
	return { from: length, to: length, text: `${start}${marker}${text.replace(/\n/g, newline)}${newline}` };
}

/** Whether edits can be made together and leave a text that YAML reads no worse than before. */
export function stillReads(plan: Plan, edits: readonly TextEdit[]): boolean {
	const broken = ({ cells }: Plan): number =>
		cells.reduce((sum, { read }) => sum + read.problems.filter(({ type }) => type === "yaml").length, 0);
	try {
		return broken(readPlan(applyEdits(plan.text, edits))) <= broken(plan);
	} catch (error) {
		if (error instanceof EditsRefused) return false;
		throw error;
	}
}
