/** Taking a key away, as a fix. */
import { type Cell, inText } from "../plan/plan.ts";
import { cutEntry } from "../text/cut-entry.ts";
import type { Edit } from "./finding.ts";

/** Takes a key with a value on its line away; undefined where that cannot be done without guessing. */
export function removal(cell: Cell, path: string): Edit | undefined {
	const place = cell.read.places.get(path);
	if (!place?.key || place.source === undefined || place.source.includes("\n")) return undefined;
	const cut = cutEntry(cell.text, { from: place.key.from, to: place.value.to });
	return cut && { ...inText(cell, cut), text: "" };
}
