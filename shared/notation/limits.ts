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
	if (isWithin(value, limits)) return value;
	const meant = nearestWithin(value, limits);
	return outOfRange(limits, unit, meant === undefined ? {} : { fix: withUnit(meant, unit) });
}

/** Whether a number lies within limits. */
export function isWithin(value: number, { min, max, above }: Limits): boolean {
	const low = (min !== undefined && value < min) || (above !== undefined && value <= above);
	return !low && (max === undefined || value <= max);
}

/** The most that may be, of what is too much; of what has a minus too many, the number without it. */
function nearestWithin(value: number, limits: Limits): number | undefined {
	if (limits.max !== undefined && value > limits.max) return limits.max;
	return value < 0 && isWithin(-value, limits) ? -value : undefined;
}

/** `90°`, `300 s`, `4`. */
const withUnit = (value: number, unit: string): string => `${value}${unit === "" || unit === "°" ? unit : ` ${unit}`}`;
