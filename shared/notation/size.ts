/** Width and height, `36 x 24 mm`, `6000 × 4000`: two numbers with a cross between them. */
import { readNumber } from "./number.ts";
import { outOfRange, type Refused } from "./scalar.ts";

export type Size = readonly [number, number];

/** Reads two numbers; `tail` is what may follow the second. */
export function readSize(text: string, tail: RegExp): Size | undefined {
	const first = readNumber(text.trim());
	const between = first && /^\s{0,5}(?:mm|px)?\s{0,5}[x×]\s{0,5}/.exec(first.rest);
	const second = between && readNumber(first.rest.slice(between[0].length));
	return second && tail.test(second.rest) ? [first.value, second.value] : undefined;
}

/** The size when both its numbers lie within limits. */
export const sizeWithin = (size: Size, min: number, max: number, unit: string): Size | Refused =>
	size.every((value) => value >= min && value <= max) ? size : outOfRange({ min, max }, unit, { each: true });
