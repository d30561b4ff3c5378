/**
 * A plan: the text of a `*.lode.yaml` file, read. Slices that did not change are not read again: pass the same
 * `PlanReader` for every version of a text.
 */
import { CELL_KINDS, type CellContent, type CellKindName } from "../cells/kinds.ts";
import { marksIn } from "../text/marks.ts";
import { sliceStream } from "../text/stream.ts";
import { FILE_BOUNDS } from "./bounds.ts";
import type { Span } from "./problem.ts";
import { type Place, type ReadSlice, readSlice } from "./read.ts";

/** One document of the stream. */
export interface Cell {
	readonly index: number;
	/** Offset of its slice in the text. */
	readonly start: number;
	readonly end: number;
	readonly text: string;
	readonly read: ReadSlice;
}

export type CellOf<K extends CellKindName> = Cell & { readonly read: Extract<ReadSlice, { kind: K }> };

export interface Plan {
	readonly text: string;
	readonly cells: readonly Cell[];
	/** What the plan takes from others, once it is joined with them (`reuse.ts`). */
	readonly reuse?: import("./reuse.ts").JoinedPlan["reuse"];
	/** What the file bounds cut off. */
	readonly cut: "length" | "marks" | "cells" | "binary" | undefined;
}

/** How many slices a reader remembers beside those of the text it reads. */
const KEPT_SLICES = 400;

/** Reads plans; slices that were read before, in an earlier version or in another file, come from memory. */
export class PlanReader {
	readonly #memory = new Map<string, ReadSlice>();

	read(text: string): Plan {
		if (text.length > FILE_BOUNDS.length) return { text, cells: [], cut: "length" };
		// A NUL is in no text: bytes of a picture, or UTF-16 taken for UTF-8.
		if (text.includes("\0")) return { text, cells: [], cut: "binary" };
		if (marksIn(text, FILE_BOUNDS.marks) > FILE_BOUNDS.marks) return { text, cells: [], cut: "marks" };
		const slices = sliceStream(text);
		const cells = slices.slice(0, FILE_BOUNDS.cells).map((slice, index): Cell => {
			const known = this.#memory.get(slice.text);
			const read = known ?? readSlice(slice.text);
			// The last used stand last: the first are forgotten.
			if (known) this.#memory.delete(slice.text);
			this.#memory.set(slice.text, read);
			return { index, start: slice.start, end: slice.start + slice.text.length, text: slice.text, read };
		});
		for (const key of this.#memory.keys()) {
			if (this.#memory.size <= KEPT_SLICES + cells.length) break;
			this.#memory.delete(key);
		}
		return { text, cells, cut: slices.length > FILE_BOUNDS.cells ? "cells" : undefined };
	}
}

/** Reads a plan once. */
export const readPlan = (text: string): Plan => new PlanReader().read(text);

/** The cells of a kind, in the order of the text. */
export function cellsOf<K extends CellKindName>(plan: Plan, kind: K): readonly CellOf<K>[] {
	return plan.cells.filter((cell): cell is CellOf<K> => cell.read.kind === kind);
}

/** The value of the first cell of a kind, as far as it could be read. */
export function firstValue<K extends CellKindName>(plan: Plan, kind: K): CellContent<K> | undefined {
	return plan.cells.find((cell) => cell.read.kind === kind)?.read.content as CellContent<K> | undefined;
}

/** What a cell is called: its `name`, else the name of its kind, numbered when there are several. */
export function cellName(plan: Plan, cell: Cell): string {
	const { kind, content: value } = cell.read;
	if (!kind) return "";
	if (value && typeof value === "object" && "name" in value && typeof value.name === "string") return value.name;
	if (kind === "plan") return (value as { title?: string } | undefined)?.title ?? "plan";
	if (!CELL_KINDS[kind].many) return kind;
	const same = cellsOf(plan, kind);
	return same.length > 1 ? `${kind} ${same.indexOf(cell as never) + 1}` : kind;
}

/** The nearest known place at or above a path in a cell, from the slice's start. */
export function placeIn(cell: Cell, path: string): Place {
	for (let at = path; ; at = at.slice(0, Math.max(0, at.lastIndexOf(".")))) {
		const place = cell.read.places.get(at);
		if (place) return place;
		if (at === "") return { value: { from: 0, to: Math.min(3, cell.text.length) }, flow: false };
	}
}

/** A span of a cell as offsets of the whole text. */
export const inText = (cell: Cell, { from, to }: Span): Span => ({ from: cell.start + from, to: cell.start + to });
