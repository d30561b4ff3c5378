/** Lists of values in one notation. */
import { isSeq, type Node, type YAMLSeq } from "yaml";
import { scalarText } from "../text/scalar.ts";
import { sentences } from "../text/sentence.ts";
import type { Template } from "../text/template.ts";
import { type Fields, isMapping } from "./mapping.ts";
import { gotOf } from "./node.ts";
import type { Notation, Offer } from "./notation.ts";

const words = sentences("notation.list", {
	ofMappings: "a list of entries",
	ofValues: "a list of values",
	wanted: "a list",
});

export interface List<T = unknown> extends Notation<readonly T[]> {
	readonly type: "list";
	readonly item: Notation<T>;
	/** How many items it may have. */
	readonly min: number;
	readonly max: number;
}

/** A list of items in one notation. */
export function list<T>(item: Notation<T>, { min = 0, max = 1000 } = {}): List<T> {
	const ofMappings = isMapping(item);
	const describe = ofMappings ? words.ofMappings : words.ofValues;
	return {
		type: "list",
		item,
		min,
		max,
		describe,
		explain: describe,
		read(node, at, path, reader) {
			if (!isSeq(node)) {
				reader.report({ type: "wrong-type", wanted: words.wanted(), got: gotOf(node), fix: undefined }, at);
				return undefined;
			}
			const { items, flow } = node as YAMLSeq<Node>;
			if (items.length < min || items.length > max) reader.report({ type: "length", min, max, got: items.length }, at);
			const read: unknown[] = [];
			// Indices stay those of the text: a broken item leaves a hole in the places, an empty value in the list.
			const until = Math.min(items.length, max);
			for (let index = 0; index < until && !reader.full; index++) {
				const one = items[index] as Node;
				const itemPath = path === "" ? `${index}` : `${path}.${index}`;
				reader.item(itemPath, one, Boolean(flow));
				const value = reader.value(itemPath, one, item);
				if (ofMappings) read.push(value ?? {});
				else if (value !== undefined) read.push(value);
			}
			return read as T[];
		},
		schema: () => ({ type: "array", items: item.schema(), minItems: min, maxItems: max }),
		complete: (context) =>
			context.source === "" ? asList(item.sketch ? [item.sketch()] : item.complete(context)) : [],
		colour: undefined,
		inside: (part) => (/^\d+$/.test(part) ? { shape: item, field: undefined } : undefined),
	};
}

/** Offers of an item as those of a list that holds it alone. */
const asList = (offers: readonly Offer[]): readonly Offer[] =>
	offers.flatMap(({ yaml, label, ...offer }) => {
		const inner = yaml ?? scalarText(label, { flow: true });
		const text: Template = ["[", ...(typeof inner === "string" ? [inner] : inner), "]"];
		return { ...offer, label: `[${label}]`, yaml: text, filter: `[${offer.filter ?? label}` };
	});

/** Whether a notation is that of a list. */
export const isList = (notation: Notation): notation is List => notation.type === "list";

/** The keys of a mapping, or of the mappings in a list. */
export const fieldsOf = (notation: Notation): Fields | undefined =>
	isMapping(notation) ? notation.fields : isList(notation) ? fieldsOf(notation.item) : undefined;
