/** Sight lines from a stand to a landmark: bearing and distance on the WGS 84 ellipsoid, and apparent altitude. */
import geodesic from "geographiclib-geodesic";

export interface Sightline {
	/** True bearing at the stand, degrees. */
	readonly bearing: number;
	/** Metres along the ellipsoid. */
	readonly distance: number;
	/** Altitude as seen, degrees: Earth's curvature and standard terrestrial refraction included. */
	readonly altitude: number;
}

interface Point {
	/** Degrees. */
	readonly latitude: number;
	readonly longitude: number;
	/** Metres above sea level. */
	readonly elevation: number;
}

/** Mean radius of Earth, metres. */
export const EARTH_RADIUS = 6_371_000;
/** Refraction coefficient of light near the ground: Gauss's 0.13 (common practice; the air of a given night differs). */
export const TERRESTRIAL_REFRACTION = 0.13;
const DEGREES = 180 / Math.PI;

/**
 * The sight line between two points (Karney, "Algorithms for geodesics", J. Geodesy 87, 2013, by geographiclib-geodesic).
 *
 * Altitude: atan2((R + h₂) cos ψ − (R + h₁), (R + h₂) sin ψ) + k ψ / 2 with ψ = distance / R.
 */
export function sightline(from: Point, to: Point): Sightline {
	const { azi1 = 0, s12 = 0 } = geodesic.Geodesic.WGS84.Inverse(
		from.latitude,
		from.longitude,
		to.latitude,
		to.longitude,
	);
	const psi = s12 / EARTH_RADIUS;
	const near = EARTH_RADIUS + from.elevation;
	const far = EARTH_RADIUS + to.elevation;
	const geometric = Math.atan2(far * Math.cos(psi) - near, far * Math.sin(psi));
	return {
		bearing: (azi1 + 360) % 360,
		distance: s12,
		altitude: (geometric + (TERRESTRIAL_REFRACTION * psi) / 2) * DEGREES,
	};
}

/** Where one comes to from a point by a true bearing in degrees over so many metres on the ellipsoid; degrees, the longitude within ± 180°. */
export function goneFrom(
	{ latitude, longitude }: Pick<Point, "latitude" | "longitude">,
	bearing: number,
	distance: number,
): { readonly latitude: number; readonly longitude: number } {
	const { lat2 = latitude, lon2 = longitude } = geodesic.Geodesic.WGS84.Direct(latitude, longitude, bearing, distance);
	return { latitude: lat2, longitude: lon2 };
}
