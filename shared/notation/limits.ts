/** Limits of a number, and the refusal of one that lies outside them. */
import { outOfRange, type Refused } from "./scalar.ts";

export interface Limits {
	readonly min?: number;
	readonly max?: number;
	/** The minimum itself is not allowed. */
	readonly above?: number;
}

/** The value when it lies within the limits. */
export function within(value: number, limits: Limits, unit: string): number | Refused {
	const { min, max, above } = limits;
	const low = (min !== undefined && value < min) || (above !== undefined && value <= above);
	return low || (max !== undefined && value > max) ? outOfRange(limits, unit) : value;
}
