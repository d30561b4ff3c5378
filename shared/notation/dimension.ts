/** A dimension: the units of a quantity. */
import type { Phrase } from "../text/sentence.ts";
import { readNumber } from "./number.ts";

export interface Dimension {
	/** What a person calls it, with its article. */
	readonly name: () => Phrase;
	/** The unit a parsed value is in: the one whose factor is 1. */
	readonly canonical: string;
	/** Spelling of a unit → factor to the canonical unit. The first spelling of a factor is the one shown. */
	readonly units: ReadonlyMap<string, number>;
	/** Factor of a number without a unit, where one may stand alone. */
	readonly bare: number | undefined;
	/** Units that are written one after the other, `12 h 30 min`, largest first; each family by itself. */
	readonly families: readonly ReadonlyMap<string, number>[];
	/** Factor of the first of numbers with colons between them, `05:35:17`; undefined where none are written. */
	readonly colons: number | undefined;
}

/** Makes a dimension of its units. */
export const dimension = (
	name: () => Phrase,
	canonical: string,
	units: Readonly<Record<string, number>>,
	bare?: number,
	families: readonly Readonly<Record<string, number>>[] = [],
	colons?: number,
): Dimension => ({
	name,
	canonical,
	units: new Map(Object.entries(units)),
	bare,
	families: families.map((family) => new Map(Object.entries(family))),
	colons,
});

/**
 * Reads numbers with their units one after the other, `12h30m`, `47° 06′ 28.1″`, in the dimension's canonical unit:
 * each unit smaller than the one before, only the last number with a fraction, and none so large that it would fill the
 * unit before. Undefined for anything else.
 */
export function readInParts(text: string, { families, colons }: Dimension): number | undefined {
	const withColons = colons === undefined ? undefined : readColons(text);
	if (colons !== undefined && withColons !== undefined) return withColons * colons;
	const parts = partsOf(text);
	if (!parts || parts.length < 2) return undefined;
	for (const family of families) {
		const factors = parts.map(({ unit }) => family.get(unit));
		if (!factors.every((factor) => factor !== undefined)) continue;
		const fits = parts.every(({ value }, i) => {
			const [factor, before] = [factors[i] as number, factors[i - 1]];
			const whole = i === parts.length - 1 || Number.isInteger(value);
			return whole && (before === undefined || (factor < before && value * factor < before));
		});
		if (!fits) return undefined;
		const size = parts.reduce((sum, { value }, i) => sum + Math.abs(value) * (factors[i] as number), 0);
		return /^[-−]/.test(text) ? -size : size;
	}
	return undefined;
}

/** Whole, minutes and seconds with colons between them. */
export const COLONS = "[-+−]?\\d{1,3}:[0-5]?\\d(:[0-5]?\\d(\\.\\d{0,9})?)?";
const IN_COLONS = new RegExp(`^${COLONS}$`);

function readColons(text: string): number | undefined {
	const trimmed = text.trim();
	if (!IN_COLONS.test(trimmed)) return undefined;
	const [whole = 0, minutes = 0, seconds = 0] = trimmed
		.replace(/^[-+−]/, "")
		.split(":")
		.map(Number);
	const size = whole + minutes / 60 + seconds / 3600;
	return /^[-−]/.test(trimmed) ? -size : size;
}

/** Numbers behind the first have no sign; more than three units are none. */
function partsOf(text: string): readonly { readonly value: number; readonly unit: string }[] | undefined {
	const parts: { value: number; unit: string }[] = [];
	for (let rest = text.trim(); rest !== ""; ) {
		const number = parts.length === 0 || /^[\d.]/.test(rest) ? readNumber(rest) : undefined;
		const unit = number && /^\s?([^\d\s.+\-−]{1,10})\s?/.exec(number.rest);
		if (!number || !unit || parts.length === 3) return undefined;
		parts.push({ value: number.value, unit: unit[1] as string });
		rest = number.rest.slice(unit[0].length);
	}
	return parts;
}
