/** How long each kind of method takes for those who share settings: the default of `takes` in the cells of that kind. */
import { asTold, type Field, mapping, optional } from "../notation/shape.ts";
import { sentences, told } from "../text/sentence.ts";
import { COMMON_KEYS } from "./common-keys.ts";
import { ALL_METHODS, type MethodContent, type MethodKind } from "./methods.ts";

const words = sentences("keys.takes-by-kind", {
	whole: "How long a kind of method takes",
	one: "{method}: how long it takes, from the first look at the level to a locked axis.",
	byKind: "How long each kind of method takes in cells that have no `takes`.",
	usual: "as is usual for the kind (common practice)",
});

const { shape, example } = COMMON_KEYS.takes;

const byKind = mapping(
	told(words.whole()),
	Object.fromEntries(
		ALL_METHODS.map(({ kind, words: { name } }) => [
			kind,
			asTold(
				optional(shape, { doc: told(words.one({ method: told(name()) })), example, otherwise: told(words.usual()) }),
			),
		]),
	) as Record<MethodKind, Field<number>>,
);

/** Durations in seconds, by the method's kind. */
export const TAKES_BY_KIND = asTold(
	optional(byKind, {
		doc: told(words.byKind()),
		example: "{ square-laser: 12 min, star-sweep: 20 min }",
		otherwise: told(words.usual()),
	}),
);

/** What of the durations by kind is for a cell, in seconds. */
export const takesOfKind = (
	durations: Readonly<Partial<Record<MethodKind, number>>> | undefined,
	{ kind }: MethodContent,
): number | undefined => kind && durations?.[kind];
