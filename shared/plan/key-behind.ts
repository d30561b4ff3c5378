/** Edits of a plan's text that keep its keys in the order in which people write them. */
import type { TextEdit } from "../text/edits.ts";
import { type Given, written } from "../text/scalar.ts";
import { insertBefore, lineBreakOf, setKey } from "./cell-edits.ts";
import { type Cell, inText } from "./plan.ts";

/** Sets a key; where it is not there, it comes behind another one, or in front of all where that is not there either. */
export function setBehind(cell: Cell, path: string, key: string, value: Given, other: string): TextEdit | undefined {
	const { places } = cell.read;
	const prefix = path === "" ? "" : `${path}.`;
	const before = places.get(prefix + other);
	if (places.has(prefix + key) || !before?.key) return setKey(cell, path, key, value);
	for (const [childPath, place] of places) {
		if (!place.key || !childPath.startsWith(prefix) || childPath.slice(prefix.length).includes(".")) continue;
		if (childPath !== path && place.key.from > before.key.from) return insertBefore(cell, place, key, value);
	}
	const { from, to } = before.whole ?? before.value;
	const entry = `${key}: ${written(value, { flow: before.flow })}`;
	const end = from + cell.text.slice(from, to).trimEnd().length;
	if (before.flow) return { ...inText(cell, { from: end, to: end }), text: `, ${entry}` };
	// A comment behind the last one stays with it.
	const rest = /^[^\r\n]*/.exec(cell.text.slice(end))?.[0] ?? "";
	const indent = before.key.from - (cell.text.lastIndexOf("\n", before.key.from - 1) + 1);
	const at = end + rest.length;
	return { ...inText(cell, { from: at, to: at }), text: `${lineBreakOf(cell.text)}${" ".repeat(indent)}${entry}` };
}
