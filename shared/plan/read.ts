/**
 * Reads one slice of a plan's text: its kind, its typed value, where every key and value stands, and what is wrong.
 * Never throws, works in bounded time and memory: see `BOUNDS`.
 */
import {
	type Alias,
	type Document,
	isAlias,
	isMap,
	isScalar,
	isSeq,
	type Node,
	type Scalar,
	type YAMLMap,
	type YAMLSeq,
} from "yaml";
import { CELL_KIND_NAMES, CELL_KINDS, type CellContent, type CellKindName } from "../cells/kinds.ts";
import { isList } from "../notation/list.ts";
import type { Field } from "../notation/mapping.ts";
import { type Entry, gotOf, keyText, type NodeReader, scalarText } from "../notation/node.ts";
import type { Notation } from "../notation/notation.ts";
import { beforeKey } from "../text/before-key.ts";
import { compact } from "../text/compact.ts";
import { cutEntry } from "../text/cut-entry.ts";
import { cutEntries, isAlone } from "../text/list-entries.ts";
import { nearestWord } from "../text/nearest.ts";
import type { Span } from "../text/span.ts";
import type { Slice } from "../text/stream.ts";
import { BOUNDS, parse, tooDeep } from "./parse.ts";
import { AddedPlaces, ListPlaces, type Place, type Places } from "./places.ts";
import type { Problem, ProblemData } from "./problem.ts";

/** A cell as read. Offsets count from the slice's start, so that equal slices give equal cells wherever they stand. */
export type ReadCell = {
	readonly [K in CellKindName]: {
		readonly kind: K;
		/** What could be read; undefined when nothing could. */
		readonly content: CellContent<K> | undefined;
		readonly places: Places;
		readonly problems: readonly Problem[];
		/** The path of another plan that it takes from. */
		readonly from?: string;
		/** The entries it was read from, by their texts, when it is a list that was read entry by entry. */
		readonly entries?: ReadEntries;
	};
}[CellKindName];

/** An entry of a list as read alone. Offsets count from the entry's start. */
export interface ReadEntry {
	readonly text: string;
	readonly content: unknown;
	/** By the path in the entry; its own is empty. */
	readonly places: ReadonlyMap<string, Place>;
	readonly problems: readonly Problem[];
	/** How many values were read. */
	readonly values: number;
	/** Where the list would end that holds nothing else. */
	readonly end: number;
}

/** Entries by their texts. */
export type ReadEntries = ReadonlyMap<string, ReadEntry>;

/** A slice that is not a cell, or a cell. */
export type ReadSlice =
	| ReadCell
	| {
			readonly kind: undefined;
			readonly content: undefined;
			readonly places: Places;
			readonly problems: readonly Problem[];
			readonly from?: undefined;
			readonly entries?: undefined;
	  };

/** Entries of lists of a kind that were read before, the last first. */
export type KnownEntries = (kind: CellKindName) => readonly ReadEntries[];

/**
 * Reads the text of one slice (see `sliceStream`). With `known`, lists are read entry by entry where that says the same:
 * those whose text is known are taken from there.
 */
export function readSlice(text: string, known?: KnownEntries): ReadSlice {
	const conflict = /^(?:<<<<<<<|=======|>>>>>>>|\|\|\|\|\|\|\|)(?=[ \t\r\n]|$)/m.exec(text);
	if (conflict) return nothing({ type: "conflict-marker", from: conflict.index, to: conflict.index + 7 });
	if (text.length > BOUNDS.sliceLength)
		return nothing({ type: "too-much", what: "size", limit: BOUNDS.sliceLength, ...firstLine(text) });
	const deep = tooDeep(text);
	if (deep !== undefined)
		return nothing({ type: "too-much", what: "depth", limit: BOUNDS.depth, from: deep, to: deep + 1 });
	const byEntries = known && readByEntries(text, known);
	if (byEntries) return byEntries;
	const document = parse(text);
	if (typeof document === "string") return nothing({ type: "yaml", code: document, detail: "", ...firstLine(text) });
	return new SliceReader(text, document).read();
}

/** A list read entry by entry, as the whole would be read; undefined when it cannot be cut, or an entry is not plain. */
function readByEntries(text: string, known: KnownEntries): ReadCell | undefined {
	const cut = cutEntries(text);
	if (!cut || !(CELL_KIND_NAMES as readonly string[]).includes(cut.key)) return undefined;
	const kind = cut.key as CellKindName;
	const { shape } = CELL_KINDS[kind];
	if (!isList(shape) || cut.entries.length > shape.max || cut.entries.length < shape.min) return undefined;
	const before = known(kind);
	const entries = new Map<string, ReadEntry>();
	const content: unknown[] = [];
	const places: { readonly start: number; readonly places: ReadonlyMap<string, Place> }[] = [];
	const problems: Problem[] = [];
	// The list itself is a value too.
	let values = 1;
	for (const { start, text: entryText } of cut.entries) {
		let entry = entries.get(entryText);
		for (let i = 0; !entry && i < before.length; i++) entry = before[i]?.get(entryText);
		entry ??= readEntry(compact(entryText), shape.item);
		if (!entry) return undefined;
		values += entry.values;
		if (values > BOUNDS.values) return undefined;
		entries.set(entry.text, entry);
		content.push(entry.content ?? {});
		places.push({ start, places: entry.places });
		for (const problem of entry.problems)
			if (problems.length < BOUNDS.problems) problems.push(movedProblem(problem, start));
	}
	const first = cut.entries[0] as Slice;
	const last = cut.entries.at(-1) as Slice;
	const from = first.start + first.text.indexOf("-");
	const end = last.start + (entries.get(last.text)?.end ?? last.text.length);
	const value = oneLine(text, from, end);
	const head: Place = {
		key: { from: cut.start, to: cut.start + kind.length },
		value,
		...wholeOf(text, from, end, value),
		flow: false,
	};
	return { kind, content, places: new ListPlaces(head, places), problems, entries } as ReadCell;
}

/** Undefined for an entry that is more, or less, than one mapping with nothing wrong in its YAML. */
function readEntry(text: string, item: Notation): ReadEntry | undefined {
	if (!isAlone(text)) return undefined;
	const document = parse(text);
	if (typeof document === "string" || document.errors.length > 0 || document.warnings.length > 0) return undefined;
	const list = document.contents as Node | null;
	if (!isSeq(list) || list.flow || list.items.length !== 1 || !isMap(list.items[0])) return undefined;
	return new SliceReader(text, document).readEntry(list as YAMLSeq<Node>, item);
}

function movedProblem(problem: Problem, by: number): Problem {
	const { whole } = problem;
	const at = {
		from: problem.from + by,
		to: problem.to + by,
		...(whole && { whole: { from: whole.from + by, to: whole.to + by } }),
	};
	return problem.type === "missing-key" && problem.insertAt !== undefined
		? { ...problem, ...at, insertAt: problem.insertAt + by }
		: { ...problem, ...at };
}

const nothing = (...problems: Problem[]): ReadSlice => ({
	kind: undefined,
	content: undefined,
	places: new Map(),
	problems,
});

/** The first line that is not blank, not a marker, and not a comment: the place of what is wrong with a whole slice. */
function firstLine(text: string): Span {
	const match = /^(?!---|\.\.\.|[ \t]*#)[ \t\uFEFF]*([^\s].{0,200})/m.exec(text);
	if (!match) return { from: 0, to: Math.min(3, text.length) };
	const from = match.index + match[0].length - (match[1] as string).length;
	return { from, to: from + (match[1] as string).trimEnd().length };
}

class SliceReader implements NodeReader {
	readonly #text: string;
	readonly #document: Document.Parsed;
	readonly #problems: Problem[] = [];
	readonly #places = new Map<string, Place>();
	#values = 0;
	#aliases = 0;
	#anchors: Map<string, Node> | undefined;
	#from: string | undefined;
	/** Whether the cell was written as a list. */
	#list = false;
	/** Ends of scalars that go over several lines, by where they begin. */
	readonly #ends = new Map<number, number>();

	constructor(text: string, document: Document.Parsed) {
		this.#text = text;
		this.#document = document;
	}

	read(): ReadSlice {
		// The parser may find an error at each character: each is placed by looking around.
		for (const { code, message, pos } of [...this.#document.errors, ...this.#document.warnings].slice(
			0,
			BOUNDS.problems,
		))
			this.report({ type: "yaml", code, detail: firstLineOf(message) }, oneLine(this.#text, pos[0], pos[1]));
		const root = this.#document.contents as Node | null;
		const cell = this.#cell(root);
		const from = this.#from === undefined ? {} : { from: this.#from };
		const places = Array.isArray(cell.content) && !this.#list ? new AddedPlaces(this.#places) : this.#places;
		return { ...cell, ...from, places, problems: this.#problems } as ReadSlice;
	}

	/** The one entry of a list, at a path of one character and a dot. */
	readEntry(list: YAMLSeq<Node>, item: Notation): ReadEntry | undefined {
		const [node] = list.items as [Node];
		this.item("0", node, false);
		const content = this.value("0", node, item);
		// What is cut out to take away a key may go further than the entry.
		if (this.full || this.#problems.some(({ type }) => type === "repeated-key")) return undefined;
		return {
			text: this.#text,
			content,
			places: new Map([...this.#places].map(([path, place]) => [path.slice(2), place])),
			problems: this.#problems,
			values: this.#values,
			end: range(list)[1],
		};
	}

	#cell(root: Node | null): { kind: CellKindName | undefined; content: unknown } {
		const none = { kind: undefined, content: undefined };
		if (root === null || (isScalar(root) && root.value === null && root.source === "")) {
			if (this.#problems.length === 0) this.report({ type: "empty-cell" }, firstLine(this.#text));
			return none;
		}
		if (!isMap(root)) {
			this.report({ type: "not-a-cell", got: gotOf(root) }, this.span(root));
			return none;
		}
		const entries = root.items as Entry[];
		if (entries.length === 0) {
			this.report({ type: "not-a-cell", got: { what: "empty-mapping" } }, this.span(root));
			return none;
		}
		const entry = entries.find((one) => (CELL_KIND_NAMES as readonly string[]).includes(keyText(one)));
		for (const other of entries) {
			if (other === entry) continue;
			const word = keyText(other);
			const at = this.keySpan(other);
			if (entry) this.report({ type: "two-kinds", words: [keyText(entry), word] }, at);
			else this.report({ type: "unknown-kind", word, nearest: nearestWord(word, CELL_KIND_NAMES) }, at);
		}
		if (!entry) return none;
		const kind = keyText(entry) as CellKindName;
		const { shape, doc } = CELL_KINDS[kind];
		return { kind, content: this.entry("", entry, { shape, doc, required: true, example: "" }, false) };
	}

	get full(): boolean {
		return this.#values > BOUNDS.values;
	}

	entry(path: string, entry: Entry, field: Field, flow: boolean): unknown {
		const { value } = entry;
		const key = this.keySpan(entry);
		const at = value ? this.span(value) : { from: key.to, to: key.to };
		const source = isScalar(value) ? { source: scalarText(value) } : undefined;
		this.#places.set(path, { key, value: at, ...(value && wholeOf(this.#text, ...range(value), at)), ...source, flow });
		const { mayBeEmpty } = field.shape;
		if (mayBeEmpty && isScalar(value) && scalarText(value).trim() === "") return undefined;
		if (value === null || (isScalar(value) && value.value === null)) {
			if (mayBeEmpty) return undefined;
			this.report({ type: "no-value", key: keyText(entry), example: field.example }, key);
			return undefined;
		}
		return this.value(path, value, field.shape);
	}

	item(path: string, node: Node, flow: boolean): void {
		const value = this.span(node);
		this.#places.set(path, { value, ...wholeOf(this.#text, ...range(node), value), flow });
	}

	value(path: string, given: Node, notation: Notation): unknown {
		if (++this.#values > BOUNDS.values) {
			if (this.#values === BOUNDS.values + 1)
				this.report({ type: "too-much", what: "values", limit: BOUNDS.values }, this.span(given));
			return undefined;
		}
		const node = isAlias(given) ? this.#resolve(given) : given;
		if (!node) return undefined;
		// What is wrong in an aliased value is shown where it is used.
		const at = this.span(given);
		if (!this.#places.has(path))
			this.#places.set(path, { value: at, ...wholeOf(this.#text, ...range(given), at), flow: false });
		if (path === "") this.#list = isSeq(node);
		const content = notation.read(node, at, path, this);
		if (path === "from" && typeof content === "string") this.#from = content;
		return content;
	}

	entries(node: YAMLMap): readonly Entry[] {
		const own: Entry[] = [];
		const merged: Entry[] = [];
		for (const entry of node.items as Entry[]) {
			if (keyText(entry) !== "<<" || !entry.value) {
				own.push(entry);
				continue;
			}
			for (const source of isSeq(entry.value) ? (entry.value.items as Node[]) : [entry.value]) {
				const map = isAlias(source) ? this.#resolve(source) : source;
				if (isMap(map)) merged.push(...(map.items as Entry[]));
			}
		}
		const taken = new Set(own.map(keyText));
		return [...own, ...merged.filter((entry) => !taken.has(keyText(entry)) && taken.add(keyText(entry)))];
	}

	#resolve(alias: Alias): Node | undefined {
		if (++this.#aliases > BOUNDS.aliases) {
			if (this.#aliases === BOUNDS.aliases + 1)
				this.report({ type: "too-much", what: "aliases", limit: BOUNDS.aliases }, this.span(alias));
			return undefined;
		}
		this.#anchors ??= anchorsOf(this.#document.contents as Node | null);
		// An alias inside its own anchor would go round for ever; the bound on values ends that too.
		const target = this.#anchors.get(alias.source);
		if (!target) this.report({ type: "yaml", code: "BAD_ALIAS", detail: "" }, this.span(alias));
		return target;
	}

	insertion(node: YAMLMap): { insertAt: number | undefined; indent: string | undefined } {
		const first = (node.items as Entry[])[0];
		if (node.flow && node.items.length === 0) return { insertAt: range(node)[0] + 1, indent: undefined };
		if (!isNodeWithRange(first?.key)) return { insertAt: undefined, indent: undefined };
		return beforeKey(this.#text, range(first.key)[0], Boolean(node.flow));
	}

	repeated(first: Entry, second: Entry): Span | undefined {
		if (this.#problems.length >= BOUNDS.problems) return undefined;
		const [one, two] = [this.#written(first), this.#written(second)];
		return one && two && one.value === two.value ? cutEntry(this.#text, two) : undefined;
	}

	/** A plain entry as it stands: its value's text, and from where to where it goes. */
	#written(entry: Entry): (Span & { readonly value: string }) | undefined {
		if (!entry.key || !entry.value) return undefined;
		const [from, keyEnd] = range(entry.key);
		const [start, to] = range(entry.value);
		// Between a key and its value nothing else stands: no anchor, no tag, no comment.
		if (!/^["']?\s*:\s*$/.test(this.#text.slice(keyEnd, start))) return undefined;
		return { from, to, value: this.#text.slice(start, to).trim() };
	}

	span(node: Node): Span {
		const [from, to] = range(node);
		const span = oneLine(this.#text, from, to);
		if (isScalar(node) && span.to < to) this.#ends.set(span.from, to);
		return span;
	}

	keySpan(entry: Entry): Span {
		return isNodeWithRange(entry.key) ? this.span(entry.key) : { from: 0, to: 0 };
	}

	keyAt(path: string): Span | undefined {
		return this.#places.get(path)?.key;
	}

	report(problem: ProblemData, at: Span): void {
		if (this.#problems.length >= BOUNDS.problems) return;
		const end = this.#ends.get(at.from);
		const to = end === undefined ? at.to : at.from + this.#text.slice(at.from, end).trimEnd().length;
		const whole = to > at.to ? { whole: { from: at.from, to } } : undefined;
		this.#problems.push({ ...problem, from: at.from, to: at.to, ...whole } as Problem);
	}
}

function anchorsOf(root: Node | null): Map<string, Node> {
	const anchors = new Map<string, Node>();
	const stack: (Node | null | undefined)[] = [root];
	while (stack.length > 0) {
		const node = stack.pop();
		if (!node || isAlias(node)) continue;
		const anchor = (node as Scalar).anchor;
		if (anchor && !anchors.has(anchor)) anchors.set(anchor, node);
		if (isMap(node)) for (const { key, value } of node.items as Entry[]) stack.push(value, key);
		else if (isSeq(node)) stack.push(...(node.items as Node[]));
	}
	return anchors;
}

const isNodeWithRange = (node: unknown): node is Node => typeof node === "object" && node !== null && "range" in node;
const range = (node: Node): readonly [number, number] => [node.range?.[0] ?? 0, node.range?.[1] ?? 0];

/** The parser's own message, without the picture of the place. */
const firstLineOf = (message: string): string => message.split("\n")[0]?.slice(0, 160) ?? "";

/** All of a value from `start` to `end` that goes on behind the end of its first line, without the white space at its end. */
function wholeOf(text: string, start: number, end: number, { from, to }: Span): { readonly whole?: Span } {
	if (start !== from || end <= to) return {};
	const trimmed = start + text.slice(start, end).trimEnd().length;
	return trimmed > to ? { whole: { from, to: trimmed } } : {};
}

/** A span cut at the end of its first line, without the white space there; at least one character if there is one. */
function oneLine(text: string, from: number, to: number): Span {
	const start = Math.min(Math.max(0, from), text.length);
	// Only what lies between is searched: a line may be very long, and hold very many values.
	const feed = text.slice(start, Math.max(start, to)).indexOf("\n");
	let end = Math.min(feed === -1 ? to : start + feed, text.length);
	while (end > start && /\s/.test(text[end - 1] as string)) end--;
	if (end > start) return { from: start, to: end };
	// An empty place: the last visible character before it, else the first after it.
	let last = start;
	while (last > 0 && /\s/.test(text[last - 1] as string)) last--;
	if (last > 0) return { from: last - 1, to: last };
	return { from: start, to: Math.min(start + 1, text.length) };
}
