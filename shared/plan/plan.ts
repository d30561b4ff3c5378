/**
 * A plan: the text of a `*.lode.yaml` file, read. Slices that did not change are not read again: pass the same
 * `PlanReader` for every version of a text.
 */
import { CELL_KINDS, type CellContent, type CellKindName } from "../cells/kinds.ts";
import type { SettingsContent } from "../cells/settings/keys.ts";
import { KeptBySize } from "../memory/memory.ts";
import { sharedWith } from "../memory/shared.ts";
import { compact } from "../text/compact.ts";
import { marksIn } from "../text/marks.ts";
import { sliceStream } from "../text/stream.ts";
import { FILE_BOUNDS } from "./bounds.ts";
import type { Place } from "./places.ts";
import type { Span } from "./problem.ts";
import { type ReadEntries, type ReadSlice, readSlice } from "./read.ts";

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
	/** Its path as the workspace names it, and what holds for all plans there, once it is joined. */
	readonly path?: string;
	readonly settings?: SettingsContent | undefined;
	/** The kits of a group, once the plan is joined with theirs. */
	readonly group?: import("./reuse.ts").JoinedPlan["group"];
	/** What the file bounds cut off. */
	readonly cut: "length" | "marks" | "cells" | "binary" | undefined;
}

/**
 * Reads plans. Slices that the text before held come from memory, and of a list that changed the entries that did not:
 * it remembers what one text is made of, and no more, unless it is told to keep so many characters of older ones. Who
 * reads a folder of plans has it so: their sites, lenses and trackers are often the same.
 */
export class PlanReader {
	readonly #older: KeptBySize<ReadSlice> | undefined;

	constructor({ keeps = 0 }: { readonly keeps?: number } = {}) {
		this.#older = keeps > 0 ? new KeptBySize(keeps) : undefined;
	}

	#slices: ReadonlyMap<string, ReadSlice> = new Map();
	/** The content of the cells of each kind, in their order. */
	#contents: ReadonlyMap<CellKindName, readonly unknown[]> = new Map();
	/** Entries of the last lists that could be read entry by entry: kept while one of them cannot. */
	readonly #entries = new Map<CellKindName, readonly ReadEntries[]>();

	read(text: string): Plan {
		if (text.length > FILE_BOUNDS.length) return { text, cells: [], cut: "length" };
		// A NUL is in no text: bytes of a picture, or UTF-16 taken for UTF-8.
		if (text.includes("\0")) return { text, cells: [], cut: "binary" };
		if (marksIn(text, FILE_BOUNDS.marks) > FILE_BOUNDS.marks) return { text, cells: [], cut: "marks" };
		const slices = sliceStream(text);
		const now = new Map<string, ReadSlice>();
		const contents = new Map<CellKindName, unknown[]>();
		const cells = slices.slice(0, FILE_BOUNDS.cells).map((slice, index): Cell => {
			const key = compact(slice.text);
			const read = now.get(key) ?? this.#slices.get(key) ?? this.#older?.get(key) ?? this.#read(key, contents);
			this.#older?.add(key, read);
			now.set(key, read);
			if (read.kind) contents.set(read.kind, [...(contents.get(read.kind) ?? []), read.content]);
			return { index, start: slice.start, end: slice.start + slice.text.length, text: slice.text, read };
		});
		this.#slices = now;
		this.#contents = contents;
		return { text, cells, cut: slices.length > FILE_BOUNDS.cells ? "cells" : undefined };
	}

	/** Reads a slice; what it says as the cell in its place said before is the same object. */
	#read(text: string, contents: ReadonlyMap<CellKindName, readonly unknown[]>): ReadSlice {
		const read = readSlice(text, (kind) => this.#entries.get(kind) ?? []);
		if (!read.kind) return read;
		const { kind, entries } = read;
		if (entries) this.#entries.set(kind, [entries, ...(this.#entries.get(kind) ?? [])].slice(0, KEPT_LISTS));
		const before = this.#contents.get(kind)?.[contents.get(kind)?.length ?? 0];
		const content = sharedWith(before, read.content);
		return content === read.content ? read : ({ ...read, content } as ReadSlice);
	}
}

/** Lists of a kind whose entries a reader remembers. */
const KEPT_LISTS = 2;

/** Reads a plan once. */
export const readPlan = (text: string): Plan => new PlanReader().read(text);

/** The cells of a kind, in the order of the text. */
export function cellsOf<K extends CellKindName>(plan: Plan, kind: K): readonly CellOf<K>[] {
	return plan.cells.filter((cell): cell is CellOf<K> => cell.read.kind === kind);
}

/** The value of the first cell of a kind, as far as it could be read. */
export function firstValue<K extends CellKindName>(plan: Pick<Plan, "cells">, kind: K): CellContent<K> | undefined {
	return plan.cells.find((cell) => cell.read.kind === kind)?.read.content as CellContent<K> | undefined;
}

/** Whether a file holds cells for others to take, or settings, and is not an evening of its own. */
export const isLibrary = (plan: Pick<Plan, "cells">): boolean =>
	firstValue(plan, "plan")?.kind === "library" || firstValue(plan, "settings") !== undefined;

/** Whether a file is the evening of several kits, each with a plan of its own. */
export const isGroup = (plan: Plan): boolean => firstValue(plan, "plan")?.kind === "group";

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

/** The nearest known place at or above a path in a cell, from the slice's start; of what is taken, where that is said. */
export function placeIn(cell: Cell, path: string): Place {
	const { places, from } = cell.read;
	const taken = from !== undefined && path !== "" && !places.has(path.split(".", 1)[0] as string);
	for (let at = taken ? "from" : path; ; at = at.slice(0, Math.max(0, at.lastIndexOf(".")))) {
		const place = places.get(at);
		if (place) return place;
		if (at === "") return { value: { from: 0, to: Math.min(3, cell.text.length) }, flow: false };
	}
}

/** A span of a cell as offsets of the whole text. */
export const inText = (cell: Cell, { from, to }: Span): Span => ({ from: cell.start + from, to: cell.start + to });
