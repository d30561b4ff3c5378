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
	type Pair,
	parseDocument,
	type Scalar,
	type YAMLMap,
	type YAMLSeq,
} from "yaml";
import { CELL_KIND_NAMES, CELL_KINDS, type CellContent, type CellKindName } from "../cells/kinds.ts";
import { readBearing } from "../notation/bearing.ts";
import { readClockTime, readDate } from "../notation/clock.ts";
import { readCoordinate } from "../notation/coordinate.ts";
import { acceptedUnits, DIMENSIONS, readNumber, readQuantity } from "../notation/quantity.ts";
import { SENSOR_FORMATS } from "../notation/sensor-formats.ts";
import type { Field, Fields, Limits, ShapeData } from "../notation/shape.ts";
import type { SkyPoint } from "../sky/skyline.ts";
import { nearestWord } from "../text/nearest.ts";
import type { Problem, Span } from "./problem.ts";

/** What a stranger's file may ask for. */
export const BOUNDS = {
	/** Characters in one document. */
	sliceLength: 200_000,
	/** Brackets, or list dashes, inside each other. */
	depth: 40,
	/** Values read in one document, aliases followed. */
	values: 20_000,
	/** Aliases followed in one document. */
	aliases: 200,
	/** Problems told of one document. */
	problems: 100,
} as const;

/** Where a key and its value stand in the slice. */
export interface Place {
	readonly key?: Span;
	readonly value: Span;
	/** The value as typed, for a scalar. */
	readonly source?: string;
	/** Whether the value stands in a flow collection (`{ }`, `[ ]`). */
	readonly flow: boolean;
}

/** A cell as read. Offsets count from the slice's start, so that equal slices give equal cells wherever they stand. */
export type ReadCell = {
	readonly [K in CellKindName]: {
		readonly kind: K;
		/** What could be read; undefined when nothing could. */
		readonly content: CellContent<K> | undefined;
		readonly places: ReadonlyMap<string, Place>;
		readonly problems: readonly Problem[];
	};
}[CellKindName];

/** A slice that is not a cell, or a cell. */
export type ReadSlice =
	| ReadCell
	| {
			readonly kind: undefined;
			readonly content: undefined;
			readonly places: ReadonlyMap<string, Place>;
			readonly problems: readonly Problem[];
	  };

/** Reads the text of one slice (see `sliceStream`). */
export function readSlice(text: string): ReadSlice {
	const conflict = /^(?:<<<<<<<|=======|>>>>>>>|\|\|\|\|\|\|\|)(?=[ \t\r\n]|$)/m.exec(text);
	if (conflict) return nothing({ type: "conflict-marker", from: conflict.index, to: conflict.index + 7 });
	if (text.length > BOUNDS.sliceLength)
		return nothing({ type: "too-much", what: "size", limit: BOUNDS.sliceLength, ...firstLine(text) });
	const deep = tooDeep(text);
	if (deep !== undefined)
		return nothing({ type: "too-much", what: "depth", limit: BOUNDS.depth, from: deep, to: deep + 1 });
	let document: Document.Parsed;
	try {
		document = parseDocument(text, {
			version: "1.2",
			schema: "core",
			uniqueKeys: false,
			prettyErrors: false,
			logLevel: "silent",
			merge: false,
		});
	} catch (error) {
		// The parser recurses; what the depth scan let through may still be too deep for the stack.
		return nothing({
			type: "yaml",
			message: error instanceof RangeError ? "nested too deep to be read" : "cannot be read as YAML",
			...firstLine(text),
		});
	}
	return new SliceReader(text, document).read();
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

/** Offset at which nesting passes the bound, or undefined. Quotes are not minded: brackets in text count too. */
function tooDeep(text: string): number | undefined {
	let depth = 0;
	let dashes = 0;
	for (let i = 0; i < text.length; i++) {
		const code = text.charCodeAt(i);
		if (code === 91 || code === 123) {
			if (++depth > BOUNDS.depth) return i;
		} else if (code === 93 || code === 125) depth = Math.max(0, depth - 1);
		else if (code === 45 || code === 63 || code === 58) {
			const next = text.charCodeAt(i + 1);
			if ((next === 32 || next === 9 || next === 10) && ++dashes > BOUNDS.depth) return i;
		} else if (code !== 32 && code !== 9) dashes = 0;
	}
	return undefined;
}

class SliceReader {
	readonly #text: string;
	readonly #document: Document.Parsed;
	readonly #problems: Problem[] = [];
	readonly #places = new Map<string, Place>();
	#values = 0;
	#aliases = 0;
	#anchors: Map<string, Node> | undefined;

	constructor(text: string, document: Document.Parsed) {
		this.#text = text;
		this.#document = document;
	}

	read(): ReadSlice {
		for (const error of [...this.#document.errors, ...this.#document.warnings]) {
			this.#report({
				type: "yaml",
				message: yamlMessage(error.code, error.message),
				...this.#oneLine(error.pos[0], error.pos[1]),
			});
		}
		const root = this.#document.contents as Node | null;
		const cell = this.#cell(root);
		return { ...cell, places: this.#places, problems: this.#problems } as ReadSlice;
	}

	#cell(root: Node | null): { kind: CellKindName | undefined; content: unknown } {
		const none = { kind: undefined, content: undefined };
		if (root === null || (isScalar(root) && root.value === null && root.source === "")) {
			if (this.#problems.length === 0) this.#report({ type: "empty-cell", ...firstLine(this.#text) });
			return none;
		}
		if (!isMap(root)) {
			this.#report({ type: "not-a-cell", got: describe(root), ...this.#oneLine(...span(root)) });
			return none;
		}
		const pairs = root.items as Pair<Node, Node | null>[];
		if (pairs.length === 0) {
			this.#report({ type: "not-a-cell", got: "an empty mapping", ...this.#oneLine(...span(root)) });
			return none;
		}
		const known = pairs.filter((pair) => (CELL_KIND_NAMES as readonly string[]).includes(keyText(pair)));
		const pair = known[0];
		for (const other of pairs) {
			if (other === pair) continue;
			const word = keyText(other);
			if (pair) this.#report({ type: "two-kinds", words: [keyText(pair), word], ...this.#keySpan(other) });
			else
				this.#report({
					type: "unknown-kind",
					word,
					nearest: nearestWord(word, CELL_KIND_NAMES),
					...this.#keySpan(other),
				});
		}
		if (!pair) return none;
		const kind = keyText(pair) as CellKindName;
		this.#place("", pair);
		const value = this.#field("", pair, { ...CELL_KINDS[kind], required: true, example: "" } as Field);
		return { kind, content: value };
	}

	/** Reads a pair's value, for a field at `path`. */
	#field(path: string, pair: Pair<Node, Node | null>, field: Field): unknown {
		const value = pair.value;
		if (value === null || (isScalar(value) && value.value === null)) {
			const example = field.example || undefined;
			this.#report({ type: "no-value", key: keyText(pair), example: example ?? "", ...this.#keySpan(pair) });
			return undefined;
		}
		return this.#value(path, value, field.shape);
	}

	#value(path: string, given: Node, shape: ShapeData): unknown {
		if (++this.#values > BOUNDS.values) {
			if (this.#values === BOUNDS.values + 1) {
				this.#report({ type: "too-much", what: "values", limit: BOUNDS.values, ...this.#oneLine(...span(given)) });
			}
			return undefined;
		}
		const node = isAlias(given) ? this.#resolve(given) : given;
		if (!node) return undefined;
		// What is wrong in an aliased value is shown where it is used.
		const at = this.#oneLine(...span(given));
		if (!this.#places.has(path)) this.#places.set(path, { value: at, flow: false });
		switch (shape.type) {
			case "list":
				return this.#list(path, node, shape, at);
			case "mapping":
				return this.#mapping(path, node, shape, at);
			case "sky-point":
				return this.#skyPoint(node, at);
			case "either": {
				if (isScalar(node)) return this.#scalar(node, shape.scalar, at);
				const keys = isMap(node) ? new Set((node.items as Pair<Node, Node | null>[]).map(keyText)) : new Set<string>();
				const score = (candidate: ShapeData) =>
					Object.keys(mappingFields(candidate) ?? {}).filter((key) => keys.has(key)).length;
				const best = [...shape.mappings].sort((a, b) => score(b) - score(a))[0] as ShapeData;
				return this.#value(path, node, best);
			}
			default:
				if (!isScalar(node)) {
					this.#report({
						type: "wrong-type",
						wanted: describeShape(shape),
						got: describe(node),
						fix: undefined,
						...at,
					});
					return undefined;
				}
				return this.#scalar(node, shape, at);
		}
	}

	#list(path: string, node: Node, shape: Extract<ShapeData, { type: "list" }>, at: Span): unknown {
		if (!isSeq(node)) {
			this.#report({ type: "wrong-type", wanted: "a list", got: describe(node), fix: undefined, ...at });
			return undefined;
		}
		const items = (node as YAMLSeq<Node>).items;
		if (items.length < shape.min || items.length > shape.max) {
			const wanted =
				shape.min === shape.max
					? `${shape.min}`
					: items.length < shape.min
						? `at least ${shape.min}`
						: `at most ${shape.max}`;
			this.#report({ type: "length", wanted, got: items.length, ...at });
		}
		const read: unknown[] = [];
		// Indices stay those of the text: a broken item leaves a hole in the places, an empty value in the list.
		items.slice(0, shape.max).forEach((item, index) => {
			const itemPath = path === "" ? `${index}` : `${path}.${index}`;
			if (this.#values > BOUNDS.values) return;
			this.#places.set(itemPath, { value: this.#oneLine(...span(item)), flow: Boolean(node.flow) });
			read.push(this.#value(itemPath, item, shape.item) ?? (shape.item.type === "mapping" ? {} : undefined));
		});
		return shape.item.type === "mapping" ? read : read.filter((item) => item !== undefined);
	}

	#mapping(path: string, node: Node, shape: Extract<ShapeData, { type: "mapping" }>, at: Span): unknown {
		if (!isMap(node)) {
			this.#report({
				type: "wrong-type",
				wanted: `a mapping with ${keyList(shape.fields)}`,
				got: describe(node),
				fix: undefined,
				...at,
			});
			return undefined;
		}
		const read: Record<string, unknown> = {};
		const seen = new Map<string, Span>();
		/** Keys that mistyped ones were most likely meant to be: they are not told as missing too. */
		const meant = new Set<string>();
		for (const pair of this.#pairs(node)) {
			const key = keyText(pair);
			const field = Object.hasOwn(shape.fields, key) ? shape.fields[key] : undefined;
			const keySpan = this.#keySpan(pair);
			if (!field) {
				const known = Object.keys(shape.fields);
				const nearest = nearestWord(
					key,
					known.filter((word) => !seen.has(word)),
				);
				if (nearest) meant.add(nearest);
				this.#report({ type: "unknown-key", word: key, nearest, known, ...keySpan });
				continue;
			}
			const first = seen.get(key);
			if (first) {
				this.#report({ type: "repeated-key", word: key, firstAt: first, ...keySpan });
				continue;
			}
			seen.set(key, keySpan);
			const keyPath = path === "" ? key : `${path}.${key}`;
			this.#place(keyPath, pair, Boolean(node.flow));
			const value = this.#field(keyPath, pair, field);
			if (value !== undefined) read[key] = value;
		}
		const place = this.#places.get(path);
		// What a cell takes from another plan is not missing here; `reuse.ts` looks again.
		if (path === "" && seen.has("from")) return read;
		for (const [key, field] of Object.entries(shape.fields)) {
			if (!field.required || seen.has(key) || meant.has(key)) continue;
			const { insertAt, indent } = this.#insertion(node);
			this.#report({
				type: "missing-key",
				key,
				of: shape.title,
				example: field.example,
				insertAt,
				indent,
				...(place?.key ?? at),
			});
		}
		return read;
	}

	/** The pairs of a mapping, those of `<<: *merged` mappings after its own keys. */
	#pairs(node: YAMLMap): Pair<Node, Node | null>[] {
		const own: Pair<Node, Node | null>[] = [];
		const merged: Pair<Node, Node | null>[] = [];
		for (const pair of node.items as Pair<Node, Node | null>[]) {
			if (keyText(pair) !== "<<" || !pair.value) {
				own.push(pair);
				continue;
			}
			for (const source of isSeq(pair.value) ? (pair.value.items as Node[]) : [pair.value]) {
				const map = isAlias(source) ? this.#resolve(source) : source;
				if (isMap(map)) merged.push(...(map.items as Pair<Node, Node | null>[]));
			}
		}
		const taken = new Set(own.map(keyText));
		return [...own, ...merged.filter((pair) => !taken.has(keyText(pair)) && taken.add(keyText(pair)))];
	}

	#resolve(alias: Alias): Node | undefined {
		if (++this.#aliases > BOUNDS.aliases) {
			if (this.#aliases === BOUNDS.aliases + 1) {
				this.#report({ type: "too-much", what: "aliases", limit: BOUNDS.aliases, ...this.#oneLine(...span(alias)) });
			}
			return undefined;
		}
		this.#anchors ??= anchorsOf(this.#document.contents as Node | null);
		// An alias inside its own anchor would go round for ever; the bound on values ends that too.
		const target = this.#anchors.get(alias.source);
		if (!target)
			this.#report({ type: "yaml", message: yamlMessage("BAD_ALIAS", ""), ...this.#oneLine(...span(alias)) });
		return target;
	}

	/** Where a missing key can be put, and with what indentation (undefined in a flow mapping). */
	#insertion(node: YAMLMap): { insertAt: number; indent: string | undefined } {
		const pairs = node.items as Pair<Node, Node | null>[];
		const first = pairs[0];
		if (node.flow || !first?.key) return { insertAt: (node.range?.[1] ?? 1) - 1, indent: undefined };
		const start = span(first.key)[0];
		const lineStart = this.#text.lastIndexOf("\n", start - 1) + 1;
		return { insertAt: start, indent: this.#text.slice(lineStart, start).replace(/[^\t]/g, " ") };
	}

	#skyPoint(node: Node, at: Span): SkyPoint | undefined {
		const items = isSeq(node) ? (node.items as Node[]) : [];
		const numbers = items.map((item) => (isScalar(item) ? readNumber(scalarText(item)) : undefined));
		const [bearing, altitude] = numbers;
		const plain = numbers.every((number) => number && /^\s?°?$/.test(number.rest));
		if (items.length !== 2 || !bearing || !altitude || !plain) {
			this.#report({
				type: "wrong-type",
				wanted: "a pair [bearing, altitude] in degrees",
				got: describe(node),
				fix: undefined,
				...at,
			});
			return undefined;
		}
		if (bearing.value < 0 || bearing.value > 360) {
			this.#report({
				type: "out-of-range",
				text: `${bearing.value}`,
				limits: "0 to 360°",
				why: "a bearing",
				...this.#oneLine(...span(items[0] as Node)),
			});
			return undefined;
		}
		if (altitude.value < -90 || altitude.value > 90) {
			this.#report({
				type: "out-of-range",
				text: `${altitude.value}`,
				limits: "−90 to 90°",
				why: "an altitude",
				...this.#oneLine(...span(items[1] as Node)),
			});
			return undefined;
		}
		return [bearing.value, altitude.value];
	}

	#scalar(node: Scalar, shape: ShapeData, at: Span): unknown {
		const text = scalarText(node);
		const unreadable = (why: string, fix?: string): undefined => {
			this.#report({ type: "unreadable", text: clip(text), shape, why, fix, ...at });
			return undefined;
		};
		switch (shape.type) {
			case "text": {
				if (typeof node.value === "boolean") return text;
				return text.trim() === "" ? unreadable("is empty") : text;
			}
			case "sky-name":
			case "reference":
			case "zone":
			case "path":
				return text.trim() === "" ? unreadable("is empty") : text.trim();
			case "flag": {
				if (typeof node.value === "boolean") return node.value;
				const fix = /^(?:yes|on|y)$/i.test(text) ? "true" : /^(?:no|off|n)$/i.test(text) ? "false" : undefined;
				this.#report({ type: "wrong-type", wanted: "`true` or `false`", got: `\`${clip(text)}\``, fix, ...at });
				return undefined;
			}
			case "number": {
				const number = readNumber(text.trim().replace(/^f\//i, ""));
				if (number?.rest !== "" || !Number.isFinite(number.value)) return unreadable("is not a plain number");
				if (shape.whole && !Number.isInteger(number.value)) return unreadable("is not a whole number");
				return this.#within(number.value, shape, text, "", at);
			}
			case "quantity": {
				const reading = readQuantity(text, shape.dimension);
				if (reading.ok) return this.#within(reading.value, shape, text, DIMENSIONS[shape.dimension].canonical, at);
				const { canonical } = DIMENSIONS[shape.dimension];
				if (reading.why === "no-unit") return unreadable("has no unit", `${text.trim()} ${canonical}`);
				if (reading.why === "unknown-unit") {
					const unit = reading.unit ?? "";
					const nearest = nearestWord(unit, DIMENSIONS[shape.dimension].units.keys());
					return unreadable(
						`has the unit \`${clip(unit)}\`, which is none of ${acceptedUnits(shape.dimension)}`,
						nearest && text.replace(unit, nearest).trim(),
					);
				}
				return unreadable("is not a number with a unit");
			}
			case "bearing":
				return (
					readBearing(text) ??
					unreadable(
						"is no bearing: write degrees from 0 to 360 (`134`, `134°T` true, `134°M` magnetic) or a compass point (`SSE`)",
					)
				);
			case "coordinate": {
				const reading = readCoordinate(text, shape.axis);
				if (reading.ok) return reading.degrees;
				const limit = shape.axis === "latitude" ? 90 : 180;
				if (reading.why === "out-of-range") {
					this.#report({
						type: "out-of-range",
						text: clip(text),
						limits: `−${limit} to ${limit}°`,
						why: `a ${shape.axis}`,
						...at,
					});
					return undefined;
				}
				const letters = shape.axis === "latitude" ? "N or S" : "E or W";
				const example =
					shape.axis === "latitude"
						? "`32.4123 S`, `-32.4123` or `32° 24′ 44″ S`"
						: "`20.8431 E`, `20.8431` or `20° 50′ 35″ E`";
				if (reading.why === "other-axis")
					return unreadable(`has the letter of the other coordinate: a ${shape.axis} ends in ${letters}`);
				if (reading.why === "two-signs")
					return unreadable("has a minus sign and a letter: keep one of them", text.replace(/[-−]/, ""));
				if (reading.why === "minutes") return unreadable("has minutes or seconds of 60 or more");
				return unreadable(`is no ${shape.axis}: write it as ${example}`);
			}
			case "clock": {
				const dotted = /^(\d{1,2})[.h](\d{2})$/.exec(text.trim());
				return (
					readClockTime(text) ??
					unreadable(
						"is no clock time: write `HH:MM` or `HH:MM:SS`, 24 hours",
						dotted ? `"${dotted[1]}:${dotted[2]}"` : undefined,
					)
				);
			}
			case "date":
				return readDate(text) ?? unreadable("is no date that exists: write `YYYY-MM-DD`");
			case "word": {
				if (Object.hasOwn(shape.words, text)) return text;
				const known = Object.keys(shape.words);
				this.#report({ type: "unknown-word", word: clip(text), nearest: nearestWord(text, known), known, ...at });
				return undefined;
			}
			case "sensor": {
				const format = SENSOR_FORMATS[text.trim()];
				if (format && Object.hasOwn(SENSOR_FORMATS, text.trim())) return format;
				const size = readPair(text, /^\s?(?:mm)?$/);
				if (!size) {
					const nearest = /[a-z]{3}/i.test(text) ? nearestWord(text, Object.keys(SENSOR_FORMATS)) : undefined;
					return unreadable(
						`is no sensor: write width and height (\`36 x 24 mm\`) or one of ${Object.keys(SENSOR_FORMATS).join(", ")}`,
						nearest,
					);
				}
				return this.#pairWithin(size, 1, 200, text, "mm", at);
			}
			case "pixel-count": {
				const size = readPair(text, /^\s?(?:px|pixels)?$/);
				if (!size?.every(Number.isInteger))
					return unreadable("is no number of pixels: write width and height, `6000 x 4000`");
				return this.#pairWithin(size, 10, 100_000, text, "px", at);
			}
			default:
				this.#report({ type: "wrong-type", wanted: describeShape(shape), got: describe(node), fix: undefined, ...at });
				return undefined;
		}
	}

	#within(value: number, { min, max, above }: Limits, text: string, unit: string, at: Span): number | undefined {
		const low = (min !== undefined && value < min) || (above !== undefined && value <= above);
		if (!low && !(max !== undefined && value > max)) return value;
		const gap = unit === "°" ? "" : " ";
		const show = (limit: number) => `${limit}${unit === "" ? "" : gap + unit}`.replace("-", "−");
		const lower = above !== undefined ? `more than ${show(above)}` : min !== undefined ? `at least ${show(min)}` : "";
		const upper = max !== undefined ? `at most ${show(max)}` : "";
		this.#report({
			type: "out-of-range",
			text: clip(text),
			limits: [lower, upper].filter(Boolean).join(" and "),
			why: "it",
			...at,
		});
		return undefined;
	}

	#pairWithin(
		pair: readonly [number, number],
		min: number,
		max: number,
		text: string,
		unit: string,
		at: Span,
	): readonly [number, number] | undefined {
		if (pair.every((value) => value >= min && value <= max)) return pair;
		this.#report({
			type: "out-of-range",
			text: clip(text),
			limits: `at least ${min} ${unit} and at most ${max} ${unit} each way`,
			why: "it",
			...at,
		});
		return undefined;
	}

	#place(path: string, pair: Pair<Node, Node | null>, flow = false): void {
		const key = this.#keySpan(pair);
		const value = pair.value ? this.#oneLine(...span(pair.value)) : { from: key.to, to: key.to };
		const source = isScalar(pair.value) ? scalarText(pair.value) : undefined;
		this.#places.set(path, source === undefined ? { key, value, flow } : { key, value, source, flow });
	}

	#keySpan(pair: Pair<Node, Node | null>): Span {
		return isNodeWithRange(pair.key) ? this.#oneLine(...span(pair.key)) : { from: 0, to: 0 };
	}

	/** A span cut at the end of its first line, without the white space there; at least one character if there is one. */
	#oneLine(from: number, to: number): Span {
		const start = Math.min(Math.max(0, from), this.#text.length);
		const feed = this.#text.indexOf("\n", start);
		let end = Math.min(to, feed === -1 ? this.#text.length : feed, this.#text.length);
		while (end > start && /\s/.test(this.#text[end - 1] as string)) end--;
		if (end > start) return { from: start, to: end };
		// An empty place: the last visible character before it, else the first after it.
		let last = start;
		while (last > 0 && /\s/.test(this.#text[last - 1] as string)) last--;
		if (last > 0) return { from: last - 1, to: last };
		return { from: start, to: Math.min(start + 1, this.#text.length) };
	}

	#report(problem: Problem): void {
		if (this.#problems.length < BOUNDS.problems) this.#problems.push(problem);
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
		if (isMap(node)) for (const pair of node.items as Pair<Node, Node | null>[]) stack.push(pair.value, pair.key);
		else if (isSeq(node)) stack.push(...(node.items as Node[]));
	}
	return anchors;
}

const isNodeWithRange = (node: unknown): node is Node => typeof node === "object" && node !== null && "range" in node;
const span = (node: Node): [number, number] => [node.range?.[0] ?? 0, node.range?.[1] ?? 0];

function keyText(pair: Pair<Node, Node | null>): string {
	return isScalar(pair.key) ? clip(scalarText(pair.key)) : "";
}

/** The text of a scalar as a person reads it: unquoted, but numbers and dates as typed. */
function scalarText(node: Scalar): string {
	return typeof node.value === "string" ? node.value : (node.source ?? String(node.value));
}

const clip = (text: string): string => (text.length > 60 ? `${text.slice(0, 57)}…` : text).replace(/[\r\n\t]+/g, " ");

function readPair(text: string, tail: RegExp): readonly [number, number] | undefined {
	const first = readNumber(text.trim());
	const between = first && /^\s{0,5}(?:mm|px)?\s{0,5}[x×]\s{0,5}/.exec(first.rest);
	const second = between && readNumber((first as { rest: string }).rest.slice(between[0].length));
	return second && tail.test(second.rest) ? [(first as { value: number }).value, second.value] : undefined;
}

function mappingFields(shape: ShapeData): Fields | undefined {
	return shape.type === "mapping" ? shape.fields : shape.type === "list" ? mappingFields(shape.item) : undefined;
}

const keyList = (fields: Fields): string => {
	const required = Object.entries(fields)
		.filter(([, field]) => field.required)
		.map(([key]) => key);
	return (required.length > 0 ? required : Object.keys(fields).slice(0, 3)).map((key) => `\`${key}\``).join(", ");
};

function describe(node: Node): string {
	if (isMap(node)) return "a mapping";
	if (isSeq(node)) return "a list";
	if (isAlias(node)) return "an alias";
	return isScalar(node) ? `\`${clip(scalarText(node))}\`` : "nothing";
}

/** What a shape is, in words, with its article. */
export function describeShape(shape: ShapeData): string {
	switch (shape.type) {
		case "text":
			return "a text";
		case "flag":
			return "`true` or `false`";
		case "number":
			return shape.whole ? "a whole number" : "a number";
		case "quantity":
			return `${DIMENSIONS[shape.dimension].name} (${acceptedUnits(shape.dimension)})`;
		case "bearing":
			return "a bearing";
		case "coordinate":
			return `a ${shape.axis}`;
		case "clock":
			return "a clock time";
		case "date":
			return "a date";
		case "zone":
			return "a time zone";
		case "word":
			return `one of ${Object.keys(shape.words).join(", ")}`;
		case "sky-name":
			return shape.of === "star" ? "the name of a star" : "the name of a star, planet, the Moon or the Sun";
		case "reference":
			return `the name of a ${shape.to}`;
		case "path":
			return "a relative path of another plan";
		case "sensor":
			return "a sensor size or format";
		case "pixel-count":
			return "width and height in pixels";
		case "sky-point":
			return "a pair [bearing, altitude]";
		case "list":
			return `a list of ${shape.item.type === "mapping" ? "mappings" : "values"}`;
		case "mapping":
			return "a mapping";
		case "either":
			return `${describeShape(shape.scalar)}, or a mapping`;
	}
}

/** The parser's own words, without what speaks of its options. */
function yamlMessage(code: string, message: string): string {
	const words: Record<string, string> = {
		TAB_AS_INDENT: "a tab cannot indent YAML: use spaces",
		BAD_INDENT: "the indentation fits no line above",
		BLOCK_AS_IMPLICIT_KEY: "a second `:` on this line: quote the value, or start a new line",
		MULTILINE_IMPLICIT_KEY: "a key must end with `:` on its own line",
		MISSING_CHAR: "a closing quote or bracket, a comma or a `:` is missing",
		UNEXPECTED_TOKEN: "this is out of place here",
		BAD_ALIAS: "the alias names no anchor above",
		TAG_RESOLVE_FAILED: "the tag is unknown: plans need none",
	};
	return words[code] ?? message.split("\n")[0]?.slice(0, 160) ?? code;
}
