/**
 * What the air takes of a star's light: its magnitude as seen is V + k X, k the extinction a magnitude per air mass and
 * X the air mass, one overhead.
 */
import { RAD } from "./vector.ts";

/**
 * Air mass at an apparent altitude (degrees, not below the horizon): F. Kasten & A. T. Young, *Applied Optics* 28 (1989)
 * 4735, X = 1 / (sin h + 0.50572 (h + 6.07995°)^−1.6364); 1.0 overhead, 2.0 at 30°, 5.6 at 10°, 38 at the horizon.
 */
export function airMass(altitude: number): number {
	const h = Math.max(0, altitude);
	return 1 / (Math.sin(h * RAD) + 0.50572 * (h + 6.07995) ** -1.6364);
}

/** Extinction in V at a dark site near the sea, at a high one, and from which height it is that. Common practice, no source. */
const LOW = 0.2;
const HIGH = 0.12;
const HIGH_SITE = 2500;

/** Extinction a magnitude per air mass where the plan does not say: by the site's height in metres, linear between. */
export const usualExtinction = (elevation: number): number =>
	LOW + (HIGH - LOW) * Math.max(0, Math.min(1, elevation / HIGH_SITE));

/** Magnitude as seen at an apparent altitude. */
export const seenMagnitude = (magnitude: number, extinction: number, altitude: number): number =>
	magnitude + extinction * airMass(altitude);
