/** Numbers without a unit: `2`, `2.8`, `f/2.8`, `1e3`. */
import { sentences } from "../text/sentence.ts";
import { type Limits, within } from "./limits.ts";
import { clip } from "./node.ts";
import type { JsonSchema, Notation } from "./notation.ts";
import { scalar, unreadable } from "./scalar.ts";

const words = sentences("notation.number", {
	number: "a number",
	whole: "a whole number",
	notPlain: "`{text}` is not a number. Write one without a unit.",
	notWhole: "`{text}` is not a whole number. Leave out the decimals.",
});

/** One number, sign and exponent included, at the start of a text. Written so that it can never backtrack far. */
const NUMBER = /^[+\-−]?(?:\d{1,30}(?:\.\d{0,30})?|\.\d{1,30})(?:[eE][+-]?\d{1,3})?/;

/** The same for a JSON Schema's `pattern`. */
export const NUMBER_PATTERN = "[-+−]?(\\d+(\\.\\d*)?|\\.\\d+)([eE][-+]?\\d+)?";

/** Reads a number at the start of `text`: the number and what follows it. */
export function readNumber(text: string): { value: number; rest: string } | undefined {
	const match = NUMBER.exec(text);
	if (!match) return undefined;
	return { value: Number(match[0].replace("−", "-")), rest: text.slice(match[0].length) };
}

/** A number without a unit, within limits. */
export const number = (limits: Limits = {}): Notation<number> =>
	scalar({
		type: "number",
		describe: words.number,
		readText(text) {
			const value = plainNumber(text);
			return value === undefined ? unreadable(words.notPlain({ text: clip(text) })) : within(value, limits, "");
		},
		schema: () => ({
			anyOf: [
				{ type: "number", ...limitsSchema(limits) },
				{ type: "string", pattern: `^[fF]/${NUMBER_PATTERN}$` },
			],
		}),
	});

/** A whole number, within limits. */
export const whole = (limits: Limits = {}): Notation<number> =>
	scalar({
		type: "number",
		describe: words.whole,
		readText(text) {
			const value = plainNumber(text);
			if (value === undefined) return unreadable(words.notPlain({ text: clip(text) }));
			return Number.isInteger(value) ? within(value, limits, "") : unreadable(words.notWhole({ text: clip(text) }));
		},
		schema: () => ({ type: "integer", ...limitsSchema(limits) }),
	});

/** The number that a text is, as a whole; an f-number may have its `f/`. */
function plainNumber(text: string): number | undefined {
	const number = readNumber(text.trim().replace(/^f\//i, ""));
	return number?.rest === "" && Number.isFinite(number.value) ? number.value : undefined;
}

function limitsSchema({ min, max, above }: Limits): JsonSchema {
	return {
		...(min === undefined ? {} : { minimum: min }),
		...(max === undefined ? {} : { maximum: max }),
		...(above === undefined ? {} : { exclusiveMinimum: above }),
	};
}
