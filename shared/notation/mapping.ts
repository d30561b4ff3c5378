/** Mappings with known keys. */
import { isMap, type YAMLMap } from "yaml";
import { nearestWord } from "../text/nearest.ts";
import { sentences, texts, told } from "../text/sentence.ts";
import type { Span } from "../text/span.ts";
import { GAP, joined, type Template, template } from "../text/template.ts";
import { type Entry, gotOf, keyText, type NodeReader } from "./node.ts";
import type { JsonSchema, Notation, Offer } from "./notation.ts";

const words = sentences("notation.mapping", {
	described: "a mapping",
	wanted: "a mapping with the keys {keys}",
	field: "{doc}{otherwise} Example: {example}",
	otherwise: " Without it: {otherwise}.",
});

/** A key of a mapping. */
export interface Field<T = unknown> {
	readonly shape: Notation<T>;
	/** What it is, for hovers, the schema and the reference page. One or two sentences. */
	readonly doc: string;
	readonly required: boolean;
	/** What holds when the key is left out, in words or as it would be typed. */
	readonly otherwise?: string;
	/** As it would be typed. */
	readonly example: string;
}
export type Fields = Readonly<Record<string, Field>>;

interface FieldWords {
	readonly doc: string;
	readonly example: string;
	readonly otherwise?: string;
}
/** A key that must be there. */
export const required = <T>(of: Notation<T>, words: FieldWords): Field<T> => ({ shape: of, required: true, ...words });
/** A key that may be left out. */
export const optional = <T>(of: Notation<T>, words: FieldWords): Field<T> => ({ shape: of, required: false, ...words });

type MappingValue<F extends Fields> = { readonly [K in keyof F]?: F[K] extends Field<infer T> ? T : never };

export interface Mapping<T = unknown> extends Notation<T> {
	readonly type: "mapping";
	readonly fields: Fields;
}

/** A mapping with known keys. */
export const mapping = <const F extends Fields>(
	named: string,
	given: F,
	/** What a schema asks beyond its keys. */
	conditions?: () => JsonSchema,
): Mapping<MappingValue<F>> => {
	const owner = `keys.${named.toLowerCase().replace(/[^a-z]+/g, "-")}`;
	const { title } = texts(owner, { title: named });
	const fields = toldFields(owner, given);
	const known = Object.keys(fields);
	const needed = known.filter((key) => fields[key]?.required);
	const sketch = (): Offer => ({
		label: `{ ${needed.join(", ")} }`,
		detail: title.charAt(0).toLowerCase() + title.slice(1),
		kind: "mapping",
		yaml: template`{ ${joined(
			needed.map((key): Template => [`${key}: `, GAP]),
			", ",
		)} }`,
	});
	return {
		type: "mapping",
		fields,
		describe: words.described,
		explain: words.described,
		read(node, at, path, reader) {
			if (isMap(node)) return readMapping(node, at, path, reader, fields) as MappingValue<F>;
			const keys = (needed.length > 0 ? needed : known.slice(0, 3)).map((key) => `\`${key}\``).join(", ");
			reader.report({ type: "wrong-type", wanted: words.wanted({ keys }), got: gotOf(node), fix: undefined }, at);
			return undefined;
		},
		schema: () => ({ ...mappingSchema(title, fields), ...conditions?.() }),
		complete: ({ source }) => (source === "" && needed.length > 0 ? [sketch()] : []),
		sketch,
		colour: undefined,
		inside(part) {
			const field = Object.hasOwn(fields, part) ? fields[part] : undefined;
			return field && { shape: field.shape, field };
		},
	};
};

/** Keys whose words are those of the catalogue already. */
const inCatalogue = new WeakSet<Field>();

/** Keys with their words as the catalogue has them, under their owner. */
export const toldFields = <const F extends Fields>(owner: string, fields: F): F =>
	Object.fromEntries(
		Object.entries(fields).map(([key, field]) => {
			if (inCatalogue.has(field)) return [key, field];
			const { otherwise } = field;
			// What holds without a key is said in words, or is a value as it would be typed.
			const isSaid = otherwise !== undefined && /[a-z]{2,} [a-z]{2,}/i.test(otherwise);
			const { doc } = texts(`${owner}.${key}`, { doc: field.doc });
			const said = isSaid ? texts(`${owner}.${key}`, { otherwise }) : {};
			return [key, asTold({ ...field, doc, ...said })];
		}),
	) as unknown as F;

/** Marks a key whose words are made of sentences of the catalogue. */
export function asTold<T extends Field>(field: T): T {
	inCatalogue.add(field);
	return field;
}

/** Whether a notation is that of a mapping. */
export const isMapping = (notation: Notation): notation is Mapping => notation.type === "mapping";

function readMapping(node: YAMLMap, at: Span, path: string, reader: NodeReader, fields: Fields): unknown {
	const read: Record<string, unknown> = {};
	const seen = new Map<string, Entry>();
	/** Keys that mistyped ones were most likely meant to be: they are not told as missing too. */
	const meant = new Set<string>();
	for (const entry of reader.entries(node)) {
		const key = keyText(entry);
		const field = Object.hasOwn(fields, key) ? fields[key] : undefined;
		if (!field) {
			const known = Object.keys(fields);
			const unseen = known.filter((word) => !seen.has(word));
			const nearest = nearestWord(key, unseen);
			if (nearest) meant.add(nearest);
			reader.report({ type: "unknown-key", word: key, nearest, known }, reader.keySpan(entry));
			continue;
		}
		const first = seen.get(key);
		if (first) {
			const cut = reader.repeated(first, entry);
			reader.report({ type: "repeated-key", word: key, cut }, reader.keySpan(entry));
			continue;
		}
		seen.set(key, entry);
		const value = reader.entry(path === "" ? key : `${path}.${key}`, entry, field, Boolean(node.flow));
		if (value !== undefined) read[key] = value;
	}
	// What a cell takes from another plan is not missing here; `reuse.ts` looks again.
	if (path === "" && seen.has("from")) return read;
	for (const [key, field] of Object.entries(fields)) {
		if (!field.required || seen.has(key) || meant.has(key)) continue;
		const { insertAt, indent } = reader.insertion(node);
		const missing = { type: "missing-key", key, example: field.example, insertAt, indent } as const;
		reader.report(missing, reader.keyAt(path) ?? at);
	}
	return read;
}

function mappingSchema(title: string, fields: Fields): JsonSchema {
	const required = Object.entries(fields).flatMap(([key, field]) => (field.required ? [key] : []));
	// What a cell takes from another plan need not stand in it.
	const needed =
		required.length === 0
			? {}
			: Object.hasOwn(fields, "from")
				? {
						anyOf: [
							{ type: "object", required },
							{ type: "object", required: ["from"] },
						],
					}
				: { required };
	return {
		title,
		type: "object",
		additionalProperties: false,
		...needed,
		properties: Object.fromEntries(
			Object.entries(fields).map(([key, { shape, doc, otherwise, example }]) => [
				key,
				{
					...shape.schema(),
					description: told(
						words.field({ doc, otherwise: otherwise === undefined ? "" : [words.otherwise({ otherwise })], example }),
					),
				},
			]),
		),
	};
}
