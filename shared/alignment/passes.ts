/** When a star passes near a direction: solved from its hour angle, not stepped. */
import type { EpochMs } from "../earth/zone.ts";
import { frameNear, siderealRad, turnMs } from "../sky/frame.ts";
import type { Interval } from "../sky/intervals.ts";
import type { HourPlace, Spot } from "../sky/place.ts";
import { starVector } from "../sky/stars.ts";
import { DEG, RAD } from "../sky/vector.ts";

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
