/** Other ways to write the same: those of a value's notation, and more and shorter frames. */

import { readQuantity } from "../notation/quantity.ts";
import type { TextEdit } from "../text/edits.ts";
import { sentences, told } from "../text/sentence.ts";
import { insertBefore, replaceValue } from "./cell-edits.ts";
import { modelAt } from "./field-at.ts";
import type { Cell } from "./plan.ts";

const words = sentences("refactorings", { split: "Split into {frames} frames of {exposure}" });

export interface Refactoring {
	readonly title: string;
	readonly edits: readonly TextEdit[];
}

/** Refactorings of the value at a path. `declination` is the site's magnetic declination, degrees, when it is known. */
export function refactoringsAt(cell: Cell, path: string, declination: number | undefined): readonly Refactoring[] {
	const { kind, places } = cell.read;
	const place = places.get(path);
	const shape = kind && modelAt(kind, path)?.shape;
	if (!place || !shape || place.source === undefined) return [];
	const rewritten = shape.rewrite?.(place.source, { declination }) ?? [];
	return [
		...rewritten.map(({ title, text }) => ({
			title: told(title),
			edits: [replaceValue(cell, path, text)].filter((edit) => edit !== undefined),
		})),
		...(kind === "targets" && path.endsWith(".exposure") ? splitExposure(cell, path, place.source) : []),
	];
}

/** Nobody stacks a shorter exposure for want of length, seconds. Common practice, no source. */
const SHORTEST_PART = 1;

/** Twice, or three times, as many frames of a half, or a third, of the exposure. */
function splitExposure(cell: Cell, path: string, source: string): readonly Refactoring[] {
	const reading = readQuantity(source, "duration");
	const exposure = cell.read.places.get(path);
	const frames = cell.read.places.get(path.replace(/exposure$/, "frames"));
	if (!reading.ok || !exposure?.key) return [];
	const count = frames?.source === undefined ? 1 : Number(frames.source);
	if (!Number.isInteger(count) || count < 1) return [];
	return [2, 3].flatMap((parts) => {
		if (reading.value / parts < SHORTEST_PART) return [];
		const shorter = `${Number((reading.value / parts).toFixed(2))} s`;
		const edits = [
			replaceValue(cell, path, shorter),
			frames
				? replaceValue(cell, path.replace(/exposure$/, "frames"), count * parts)
				: insertBefore(cell, exposure, "frames", parts),
		].filter((edit) => edit !== undefined);
		return edits.length < 2 ? [] : [{ title: told(words.split({ frames: count * parts, exposure: shorter })), edits }];
	});
}
