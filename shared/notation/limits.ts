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

/** The units that people write large numbers in, by the unit the plan counts in. */
const LARGER: Readonly<Record<string, readonly (readonly [unit: string, size: number, from: number])[]>> = {
	s: [
		["h", 3600, 3600],
		["min", 60, 60],
	],
	m: [["km", 1000, 10_000]],
};

/** `90°`, `30 s`, `6 h`, `4`: a limit in the unit that a person would write it in. */
export function withUnit(value: number, unit: string): string {
	if (unit === "" || unit === "°") return `${value}${unit}`;
	const larger = LARGER[unit]?.find(([, size, from]) => Math.abs(value) >= from && value % size === 0);
	return larger ? `${value / larger[1]} ${larger[0]}` : `${value} ${unit}`;
}
