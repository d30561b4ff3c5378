/** A dimension: the units of a quantity. */
import type { Phrase } from "../text/sentence.ts";

export interface Dimension {
	/** What a person calls it, with its article. */
	readonly name: () => Phrase;
	/** The unit a parsed value is in: the one whose factor is 1. */
	readonly canonical: string;
	/** Spelling of a unit → factor to the canonical unit. The first spelling of a factor is the one shown. */
	readonly units: ReadonlyMap<string, number>;
	/** Factor of a number without a unit, where one may stand alone. */
	readonly bare: number | undefined;
}

/** Makes a dimension of its units. */
export const dimension = (
	name: () => Phrase,
	canonical: string,
	units: Readonly<Record<string, number>>,
	bare?: number,
): Dimension => ({ name, canonical, units: new Map(Object.entries(units)), bare });
