/** Keys that every method has, and those of methods with a pointer. */
import { COMMON_SPREAD, type SourceName } from "../alignment/budget.ts";
import { asTold, clock, type Decoded, type Field, mapping, optional, quantity, type Shape } from "../notation/shape.ts";
import { sentences, told } from "../text/sentence.ts";
import { SOURCE_DOCS } from "./source-docs.ts";

const words = sentences("keys.uncertainty", {
	spread: "{source} One standard deviation; zero switches the source off.",
	practice: "common practice",
});

const SOURCE_NAMES = Object.keys(COMMON_SPREAD) as readonly SourceName[];

function spreadField(name: SourceName): Field<number> {
	const shape: Shape<number> =
		name === "clock"
			? quantity("duration", { min: 0, max: 3600 })
			: name === "landmark"
				? quantity("length", { min: 0, max: 100000 })
				: quantity("angle", { min: 0, max: 45 });
	return asTold(
		optional(shape, {
			doc: told(words.spread({ source: SOURCE_DOCS[name] })),
			example: name === "clock" ? "± 5 s" : name === "landmark" ? "± 10 m" : "± 0.5°",
			otherwise: told(words.practice()),
		}),
	);
}

const uncertainty = mapping(
	"The ± of each error source",
	Object.fromEntries(SOURCE_NAMES.map((name) => [name, spreadField(name)])) as Record<SourceName, Field<number>>,
);

/** The keys of every method beside its kind and its own. */
export const COMMON_KEYS = {
	at: optional(clock(), {
		doc: "Clock time at which it is done.",
		example: '"20:01"',
		otherwise: "the best time on site",
	}),
	takes: optional(quantity("duration", { min: 0, max: 14_400 }), {
		doc: "How long it takes, from the first look at the level to a locked axis.",
		example: "8 min",
		otherwise: "5 to 15 min, a drift test longer (common practice)",
	}),
	uncertainty: optional(uncertainty, {
		doc: "The ± of each error source, one standard deviation.",
		example: "{ compass: ± 3°, clock: ± 2 s }",
		otherwise: "common practice for each",
	}),
};

/** Keys of a method whose pointer stands at an angle to the axis. */
export const POINTER_KEYS = {
	offset: optional(quantity("angle", { min: 0.1, max: 179 }), {
		doc: "angle between the axis and the laser or sight.",
		example: "90°",
		otherwise: "90°",
	}),
	reach: optional(quantity("angle", { min: 0.01, max: 30 }), {
		doc: "how far from the aim point a guide star may pass and still be usable.",
		example: "1°",
		otherwise: "1°",
	}),
};

/** What a mapping of keys decodes to: every key may be missing. */
export type ContentOf<K extends Readonly<Record<string, Field<unknown>>>> = {
	readonly [Key in keyof K]?: Decoded<K[Key]["shape"]>;
};

/** What every method's cell holds beside its own keys. */
export type CommonContent = ContentOf<typeof COMMON_KEYS>;
