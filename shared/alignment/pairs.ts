/**
 * Two stars and what they say of the axis together. A star at hour angle H lies, as seen from the pole, in direction
 * n = (cos H, −s sin H) in (along, across), s = ±1 north or south; each measures the axis error's part toward it, and
 * the answer for both parts is amplified by 1 / |sin(H₂ − H₁)|.
 */
import { DEG } from "../sky/vector.ts";
import { type AxisVector, hemisphere } from "./axis-error.ts";

/** Two stars nearer than this in hour angle (or this near to opposite) fix the axis too badly, degrees. Common practice, no source. */
export const CLOSEST_PAIR = 30;

/** Whether two stars so many degrees of hour angle apart are too near in line with the pole. */
export const isTooClose = (spread: number): boolean => spread < CLOSEST_PAIR || spread > 180 - CLOSEST_PAIR;

/** Direction from the pole toward a star at an hour angle (degrees), in (along, across). */
export function fromPole(hourAngle: number, latitude: number): AxisVector {
	return { along: Math.cos(hourAngle / DEG), across: -hemisphere(latitude) * Math.sin(hourAngle / DEG) };
}

/** Axis errors that follow from one degree of miss at the first and at the second star; undefined for stars in line with the pole. */
export function solvePair(first: AxisVector, second: AxisVector): readonly [AxisVector, AxisVector] | undefined {
	const determinant = first.along * second.across - first.across * second.along;
	if (Math.abs(determinant) < 0.02) return undefined;
	return [
		{ along: second.across / determinant, across: -second.along / determinant },
		{ along: -first.across / determinant, across: first.along / determinant },
	];
}

/** The axis error of two misses, degrees. */
export function combine([first, second]: readonly [AxisVector, AxisVector], a: number, b: number): AxisVector {
	return { along: a * first.along + b * second.along, across: a * first.across + b * second.across };
}
