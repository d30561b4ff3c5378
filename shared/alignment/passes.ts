/** When a star passes near a direction: solved from its hour angle, not stepped. */
import type { EpochMs } from "../earth/zone.ts";
import { frameNear, siderealRad, turnMs } from "../sky/frame.ts";
import { type Direction, toVector } from "../sky/horizontal.ts";
import type { Interval } from "../sky/intervals.ts";
import type { Spot } from "../sky/place.ts";
import { trueAltitude } from "../sky/refraction.ts";
import { starVector } from "../sky/stars.ts";
import { DEG, RAD } from "../sky/vector.ts";

/** A direction at a stand as hour angle and declination, radians: refraction taken off. */
export interface HourPlace {
	readonly hourAngleRad: number;
	readonly declinationRad: number;
}

export function hourPlaceOf(spot: Spot, { azimuth, altitude }: Direction): HourPlace {
	const [east, north, up] = toVector({ azimuth, altitude: trueAltitude(altitude, spot.air) });
	const s = Math.sin(spot.latitude * RAD);
	const c = Math.cos(spot.latitude * RAD);
	const meridian = c * up - s * north;
	return {
		hourAngleRad: Math.atan2(-east, meridian),
		declinationRad: Math.asin(Math.max(-1, Math.min(1, s * up + c * north))),
	};
}

export interface Pass {
	/** When the star is nearest the direction. */
	readonly best: EpochMs;
	/** How near, degrees. */
	readonly least: number;
	/** Half the time for which it is within reach, milliseconds. */
	readonly halfMs: number;
}

/**
 * Passes of a star within `reach` degrees of a place, whose best moments lie in a span or whose stretch touches it.
 * A star moves along its parallel: with a polar distance it keeps, the separation s from a place (H₀, δ₀) follows
 * cos s = sin δ sin δ₀ + cos δ cos δ₀ cos(H − H₀), least at H = H₀.
 */
export function passes(index: number, place: HourPlace, reach: number, spot: Spot, span: Interval): readonly Pass[] {
	const middle = (span.from + span.until) / 2;
	const frame = frameNear(middle);
	const [x, y, z] = starVector(index, frame);
	const cosDeclination = Math.hypot(x, y);
	const [sin0, cos0] = [Math.sin(place.declinationRad), Math.cos(place.declinationRad)];
	const cosLeast = z * sin0 + cosDeclination * cos0;
	const least = Math.acos(Math.min(1, cosLeast)) * DEG;
	if (least > reach) return [];
	const cosHalf = (Math.cos(reach * RAD) - z * sin0) / (cosDeclination * cos0);
	const halfMs = cosHalf <= -1 ? Number.POSITIVE_INFINITY : turnMs(Math.acos(Math.min(1, cosHalf)));
	const lst = siderealRad(frame, middle) + spot.longitude * RAD;
	const hourAngle = lst - Math.atan2(y, x);
	const day = turnMs(2 * Math.PI);
	const first = middle + turnMs(place.hourAngleRad - hourAngle);
	const found: Pass[] = [];
	for (
		let best = first - Math.ceil((first - span.from) / day + 1) * day;
		best - halfMs < span.until && found.length < 4;
		best += day
	) {
		if (best + halfMs > span.from) found.push({ best, least, halfMs });
	}
	return found;
}
