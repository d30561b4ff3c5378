/** What a point of a map is worth as a landmark: how sure its bearing is, and whether Earth's curve hides it. */
import { EARTH_RADIUS, type Sightline, sightline, TERRESTRIAL_REFRACTION } from "./sightline.ts";

interface Place {
	/** Degrees. */
	readonly latitude: number;
	readonly longitude: number;
	/** Metres above sea level. */
	readonly elevation: number;
}

export interface LandmarkUse extends Sightline {
	/** Bearing error from the error of both places, degrees. */
	readonly spread: number;
	/** Whether the sea's own horizon hides it, were there nothing but the sea. */
	readonly beyondHorizon: boolean;
}

const DEGREES = 180 / Math.PI;

/**
 * A landmark as it is seen from a spot. `placeError` is the error of its place and the spot's together, metres across the
 * line of sight: it turns the bearing by atan(placeError / distance).
 */
export function landmarkUse(spot: Place, landmark: Place, placeError: number): LandmarkUse {
	const line = sightline(spot, landmark);
	// The dip and the distance of the sea's horizon, by the same curve and refraction.
	const bent = 2 * (1 - TERRESTRIAL_REFRACTION);
	const height = Math.max(0, spot.elevation);
	const dip = Math.sqrt((bent * height) / EARTH_RADIUS) * DEGREES;
	const away = Math.sqrt((2 * EARTH_RADIUS * height) / (1 - TERRESTRIAL_REFRACTION));
	return {
		...line,
		spread: Math.atan2(placeError, line.distance) * DEGREES,
		beyondHorizon: line.distance > away && line.altitude < -dip,
	};
}
