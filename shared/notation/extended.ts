/** Lists that may begin with those of another plan: a list, or `{ from: PATH, add: [ … ] }`. */
import { isMap } from "yaml";
import { sentences } from "../text/sentence.ts";
import { type List, list } from "./list.ts";
import { type Field, type Mapping, mapping, optional } from "./mapping.ts";
import { keyText } from "./node.ts";
import type { Notation } from "./notation.ts";

const words = sentences("notation.extended", {
	described: "a list of entries, or `{ from: PATH, add: [ … ] }`",
});

/** What may be written instead of the list, with its words. */
interface Extension {
	readonly title: string;
	readonly from: Field<string>;
	/** An entry, as it would be typed. */
	readonly example: string;
}

/** Such a list: its entries, and the keys that may be written in their place. */
export interface Extended<T = unknown> extends List<T> {
	readonly taken: Mapping;
}

export const isExtended = (notation: Notation): notation is Extended => "taken" in notation;

/**
 * A list, or the list of another plan with entries of its own behind it. What is read are the entries that are written
 * here; the others come when the plan is joined with the other one (`plan/reuse.ts`).
 */
export function extended<T>(
	item: Notation<T>,
	{ title, from, example }: Extension,
	{ min = 0, max = 1000 } = {},
): Extended<T> {
	const written = list(item, { min, max });
	const taken = mapping(title, {
		from: { ...from, required: true },
		add: optional(list(item, { max }), {
			doc: "Entries that come after the targets of the other plan.",
			example: `[${example}]`,
			otherwise: "no more entries",
		}),
	});
	return {
		...written,
		taken,
		describe: words.described,
		explain: words.described,
		read(node, at, path, reader) {
			// A mapping without these keys is an entry whose dash was left out: a list is then asked for.
			const isTaken = isMap(node) && reader.entries(node).some((entry) => Object.hasOwn(taken.fields, keyText(entry)));
			if (!isTaken) return written.read(node, at, path, reader);
			return taken.read(node, at, path, reader)?.add ?? [];
		},
		schema: () => ({ anyOf: [written.schema(), taken.schema()] }),
		inside: (part) => written.inside?.(part) ?? taken.inside?.(part),
	};
}
