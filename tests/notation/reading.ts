/** Reads a value in a notation, as the reader of plans does, without a plan around it; and asks its JSON Schema. */
import Ajv2020 from "ajv/dist/2020.js";
import { isScalar, type Node, parseDocument } from "yaml";
import { type Entry, keyText, type NodeReader } from "../../shared/notation/node.ts";
import type { Notation } from "../../shared/notation/notation.ts";
import type { ValueProblem } from "../../shared/notation/problem.ts";

const NOWHERE = { from: 0, to: 0 };
const ajv = new Ajv2020({ strict: true, strictRequired: false, allErrors: true, allowUnionTypes: true });

export function readValue<T>(
	notation: Notation<T>,
	source: string,
): { readonly value: T | undefined; readonly problems: readonly ValueProblem[] } {
	const problems: ValueProblem[] = [];
	const reader: NodeReader = {
		full: false,
		value: (path, node, inner) => inner.read(node, NOWHERE, path, reader),
		entry(path, entry: Entry, field) {
			if (entry.value && !(isScalar(entry.value) && entry.value.value === null))
				return reader.value(path, entry.value, field.shape);
			problems.push({ type: "no-value", key: keyText(entry), example: field.example });
			return undefined;
		},
		item: () => undefined,
		entries: (node) => node.items as Entry[],
		span: () => NOWHERE,
		keySpan: () => NOWHERE,
		keyAt: () => undefined,
		insertion: () => ({ insertAt: 0, indent: undefined }),
		repeated: () => undefined,
		report: (problem) => void problems.push(problem),
	};
	const node = parseDocument(source, { schema: "core" }).contents as unknown as Node;
	return { value: notation.read(node, NOWHERE, "", reader), problems };
}

/** What the JSON Schema of a notation has against a value; an empty list when it is valid. */
export function schemaErrors(notation: Notation, source: string): readonly string[] {
	const validate = ajv.compile(notation.schema());
	validate(parseDocument(source, { schema: "core" }).toJS());
	return (validate.errors ?? []).map(({ instancePath, message }) => `${instancePath} ${message}`);
}
