/** A scalar, or one of several mappings told apart by their keys. */
import { isMap, isScalar, type Node } from "yaml";
import { sentences } from "../text/sentence.ts";
import { fieldsOf } from "./list.ts";
import { type Entry, keyText } from "./node.ts";
import type { Notation } from "./notation.ts";

const words = sentences("notation.either", { described: "{scalar}, or a mapping" });

/** The order of the mapping among the names that are offered. */
const LAST = 9000;

export interface Either<T = unknown> extends Notation<T> {
	readonly type: "either";
	readonly mappings: readonly Notation[];
}

/** A scalar, or one of several mappings told apart by their keys. */
export function either<A, B, C = never, D = never, E = never, F = never>(
	scalar: Notation<A>,
	...given: readonly [Notation<B>, Notation<C>?, Notation<D>?, Notation<E>?, Notation<F>?]
): Either<A | B | C | D | E | F> {
	const mappings = given.filter((one) => one !== undefined) as readonly Notation<B | C | D | E | F>[];
	const describe = () => words.described({ scalar: [scalar.describe()] });
	return {
		type: "either",
		mappings,
		describe,
		explain: describe,
		read(node, at, path, reader) {
			if (isScalar(node)) return scalar.read(node, at, path, reader);
			return reader.value(path, node, nearest(node, mappings)) as B | C | D | E | F | undefined;
		},
		schema: () => ({ anyOf: [scalar.schema(), ...mappings.map((mapping) => mapping.schema())] }),
		complete: (context) => [
			...scalar.complete(context),
			...mappings.flatMap(({ sketch }, i) => (sketch ? [{ ...sketch(), order: LAST + i }] : [])),
		],
		colour: scalar.colour,
		names: scalar.names,
		inside: (part) => mappings.map((mapping) => mapping.inside?.(part)).find((found) => found !== undefined),
	};
}

/** Whether a notation is a scalar or a mapping. */
export const isEither = (notation: Notation): notation is Either => notation.type === "either";

/** The mapping that has most of the keys that stand there. */
function nearest<T>(node: Node, mappings: readonly Notation<T>[]): Notation<T> {
	const keys = isMap(node) ? new Set((node.items as Entry[]).map(keyText)) : new Set<string>();
	const score = (candidate: Notation) => Object.keys(fieldsOf(candidate) ?? {}).filter((key) => keys.has(key)).length;
	return [...mappings].sort((a, b) => score(b) - score(a))[0] as Notation<T>;
}
