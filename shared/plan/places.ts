/** Where every key and value of a cell stands, by path. */
import type { Span } from "../text/span.ts";

/** Where a key and its value stand in the slice. */
export interface Place {
	readonly key?: Span;
	readonly value: Span;
	/** All of the value, where it goes on behind the end of its first line: what an edit replaces. */
	readonly whole?: Span;
	/** The value as typed, for a scalar. */
	readonly source?: string;
	/** Whether the value stands in a flow collection (`{ }`, `[ ]`). */
	readonly flow: boolean;
}

/** Places with their paths, in the order of the text. */
export type PlacedPaths = Iterable<readonly [path: string, place: Place]>;

export interface Places extends PlacedPaths {
	get(path: string): Place | undefined;
	has(path: string): boolean;
}

/** The places of one entry of a list, counted from its own start; its own place has the empty path. */
export interface EntryPlaces {
	/** Offset of the entry in the slice. */
	readonly start: number;
	readonly places: ReadonlyMap<string, Place>;
}

/**
 * The places of a list whose entries were read one by one. An edit in one entry moves all behind it: they are moved when
 * somebody asks for them.
 */
export class ListPlaces implements Places {
	readonly #head: Place;
	readonly #entries: readonly EntryPlaces[];

	constructor(head: Place, entries: readonly EntryPlaces[]) {
		this.#head = head;
		this.#entries = entries;
	}

	get(path: string): Place | undefined {
		if (path === "") return this.#head;
		const entry = this.#entryOf(path);
		const place = entry?.places.get(within(path));
		return entry && place && moved(place, entry.start);
	}

	has(path: string): boolean {
		return path === "" || this.#entryOf(path)?.places.has(within(path)) === true;
	}

	*[Symbol.iterator](): Iterator<readonly [string, Place]> {
		yield ["", this.#head];
		for (const index of this.#entries.keys()) yield* this.#placesOf(index);
	}

	/** The entries with their places, in their order. */
	get entries(): readonly EntryPlaces[] {
		return this.#entries;
	}

	/** The list's own place, and those of the entry that holds an offset. */
	*around(offset: number): PlacedPaths {
		yield* this.between(offset, offset);
	}

	/** The list's own place, and those of all entries that have a part between two offsets. */
	*between(from: number, to: number): PlacedPaths {
		yield ["", this.#head];
		for (let i = this.#entryAt(from); i < this.#entries.length && this.#startOf(i) <= to; i++) yield* this.#placesOf(i);
	}

	#startOf(index: number): number {
		return (this.#entries[index] as EntryPlaces).start;
	}

	/** The last entry that starts at an offset or before it; the first when none does. */
	#entryAt(offset: number): number {
		let [low, high] = [0, this.#entries.length - 1];
		while (low < high) {
			const middle = (low + high + 1) >> 1;
			if (this.#startOf(middle) <= offset) low = middle;
			else high = middle - 1;
		}
		return low;
	}

	/** The places of the entry that a path leads into. */
	*below(path: string): PlacedPaths {
		if (path === "") yield* this;
		else if (this.#entryOf(path)) yield* this.#placesOf(Number.parseInt(path, 10));
	}

	*#placesOf(index: number): PlacedPaths {
		const { start, places } = this.#entries[index] as EntryPlaces;
		for (const [path, place] of places) yield [pathOf(index, path), moved(place, start)];
	}

	#entryOf(path: string): EntryPlaces | undefined {
		const dot = path.indexOf(".");
		const index = dot === -1 ? path : path.slice(0, dot);
		// `01` is no path, though it is a number.
		return /^(?:0|[1-9]\d*)$/.test(index) ? this.#entries[Number(index)] : undefined;
	}
}

/** The key under which a list that begins with another plan's has its own entries. */
const ADDED = "add";

/**
 * The places of a list that begins with the entries of another plan, `{ from, add }`. Entries go by their numbers in the
 * whole list, so that a path means the same to whoever reads the content: those that are taken have no place here.
 */
export class AddedPlaces implements Places {
	readonly #written: ReadonlyMap<string, Place>;
	readonly #taken: number;

	constructor(written: ReadonlyMap<string, Place>, taken = 0) {
		this.#written = written;
		this.#taken = taken;
	}

	/** The same behind so many entries of the other plan. */
	behind(taken: number): AddedPlaces {
		return taken === this.#taken ? this : new AddedPlaces(this.#written, taken);
	}

	get(path: string): Place | undefined {
		const numbered = /^(0|[1-9]\d*)(?=\.|$)/.exec(path)?.[0];
		if (numbered === undefined) return this.#written.get(path);
		return this.#written.get(`${ADDED}.${Number(numbered) - this.#taken}${path.slice(numbered.length)}`);
	}

	has(path: string): boolean {
		return this.get(path) !== undefined;
	}

	*[Symbol.iterator](): Iterator<readonly [string, Place]> {
		for (const [path, place] of this.#written) {
			const numbered = /^add\.(\d+)/.exec(path);
			yield numbered ? [`${Number(numbered[1]) + this.#taken}${path.slice(numbered[0].length)}`, place] : [path, place];
		}
	}
}

const within = (path: string): string => {
	const dot = path.indexOf(".");
	return dot === -1 ? "" : path.slice(dot + 1);
};

/** The path in the list of a path in an entry. */
export const pathOf = (index: number, path: string): string => (path === "" ? `${index}` : `${index}.${path}`);

/** A place of an entry, counted from the slice's start. */
export function moved({ key, value, whole, source, flow }: Place, by: number): Place {
	return {
		...(key && { key: movedSpan(key, by) }),
		value: movedSpan(value, by),
		...(whole && { whole: movedSpan(whole, by) }),
		...(source === undefined ? {} : { source }),
		flow,
	};
}

const movedSpan = ({ from, to }: Span, by: number): Span => ({ from: from + by, to: to + by });

/** All places that may hold an offset of the slice. */
export const placesAround = (places: Places, offset: number): PlacedPaths =>
	places instanceof ListPlaces ? places.around(offset) : places;

/** All places that may stand between two offsets of the slice, and perhaps others. */
export const placesBetween = (places: Places, from: number, to: number): PlacedPaths =>
	places instanceof ListPlaces ? places.between(from, to) : places;

/** All places whose paths may begin with a path. */
export const placesBelow = (places: Places, path: string): PlacedPaths =>
	places instanceof ListPlaces ? places.below(path) : places;
