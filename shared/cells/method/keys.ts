/** The keys of a `method` cell: its kind, those of every method, and each method's own. */
import { COMMON_KEYS } from "../../methods/common-keys.ts";
import { ALL_METHODS, FIRST_METHOD, type MethodContent, type MethodKind } from "../../methods/methods.ts";
import { asTold, type Field, type Fields, mapping, required, type Shape, word } from "../../notation/shape.ts";
import { told } from "../../text/sentence.ts";
import { TAKEN_FROM } from "../taken.ts";

/** Keys of a method that belong to certain kinds only; the others belong to all. */
export const METHOD_KEYS: ReadonlyMap<string, readonly MethodKind[]> = new Map(
	ALL_METHODS.flatMap(({ keys }) => Object.keys(keys)).map((key) => [
		key,
		ALL_METHODS.filter(({ keys }) => Object.hasOwn(keys, key)).map(({ kind }) => kind),
	]),
);

/** Kinds of method with what they set by what. */
export const METHOD_KINDS = Object.fromEntries(
	ALL_METHODS.map(({ kind, words }) => [kind, told(words.doc())]),
) as Readonly<Record<MethodKind, string>>;

/** A key with the kinds it belongs to at the head of its words. */
function owned(key: string, field: Field): Field {
	const kinds = METHOD_KEYS.get(key) ?? [];
	return asTold({ ...field, doc: `${kinds.map((kind) => `\`${kind}\``).join(", ")}: ${field.doc}` });
}

const own: Fields = Object.fromEntries(
	ALL_METHODS.flatMap(({ keys }) => Object.entries(keys)).map(([key, field]) => [key, owned(key, field)]),
);

/** In a schema: where the kind is written, no key of another. */
const ofKind = () => ({
	allOf: ALL_METHODS.map(({ kind, keys }) => ({
		if: { type: "object", properties: { kind: { const: kind } }, required: ["kind"] },
		// biome-ignore lint/suspicious/noThenProperty: JSON Schema's word.
		then: {
			type: "object",
			properties: Object.fromEntries(
				[...METHOD_KEYS.keys()].filter((key) => !Object.hasOwn(keys, key)).map((key) => [key, false]),
			),
		},
	})),
});

/** A method of polar alignment. */
export const method: Shape<MethodContent> = mapping(
	"A method of polar alignment",
	{
		from: {
			...TAKEN_FROM,
			doc: `Another plan, from which the method is taken: its first of this \`kind\`, or its first of all if
				\`kind\` is left out. A relative path inside the workspace. Keys written here replace those of the other
				plan.`,
			example: "../kits/dawn.lode.yaml",
		},
		kind: required(word(METHOD_KINDS, "told"), { doc: "How the axis is set.", example: FIRST_METHOD.kind }),
		at: COMMON_KEYS.at,
		takes: COMMON_KEYS.takes,
		...own,
		uncertainty: COMMON_KEYS.uncertainty,
	},
	ofKind,
) as Shape<MethodContent>;

/** Paths that name what a method points at, of all kinds. */
export const METHOD_MARKS: readonly string[] = [...new Set(ALL_METHODS.flatMap(({ markKeys }) => markKeys))];
