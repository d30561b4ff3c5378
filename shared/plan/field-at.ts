/** Finds what the model says of a path of a cell, and the path at an offset. */
import { CELL_KINDS, type CellKindName } from "../cells/kinds.ts";
import type { Inside } from "../notation/notation.ts";
import { type Place, placesAround } from "./places.ts";
import type { Cell } from "./plan.ts";

/** The shape, and the field if a key leads to it, at a path such as `landmarks.0.name`. */
export function modelAt(kind: CellKindName, path: string): Inside | undefined {
	let at: Inside = { shape: CELL_KINDS[kind].shape, field: undefined };
	if (path === "") return at;
	for (const part of path.split(".")) {
		const next = at.shape.inside?.(part);
		if (!next) return undefined;
		at = next;
	}
	return at;
}

export interface Pointed {
	readonly path: string;
	readonly place: Place;
	readonly part: "key" | "value";
}

/** What stands at an offset of a cell's slice: the smallest key or value that holds it. */
export function pointedAt(cell: Cell, offset: number): Pointed | undefined {
	let best: Pointed | undefined;
	let bestLength = Number.POSITIVE_INFINITY;
	for (const [path, place] of placesAround(cell.read.places, offset)) {
		for (const part of ["key", "value"] as const) {
			const span = place[part];
			if (!span || offset < span.from || offset > span.to) continue;
			const length = span.to - span.from;
			if (length <= bestLength) {
				best = { path, place, part };
				bestLength = length;
			}
		}
	}
	return best;
}

/** The cell that holds an offset of the text; at a border the later one. */
export function cellAt(cells: readonly Cell[], offset: number): Cell | undefined {
	let found = cells[0];
	for (const cell of cells) if (cell.start <= offset) found = cell;
	return found;
}
