/** Where on the sky a frame looked, and the axis about which the camera was turned from one frame to another. */
import { type Attitude, outward } from "../alignment/attitude.ts";
import type { AxisVector, Covariance } from "../alignment/axis-error.ts";
import { axisFromSolved, type Solved } from "../alignment/solved-frames.ts";
import type { EpochMs } from "../earth/zone.ts";
import { frameNear, siderealRad } from "../sky/frame.ts";
import { toDirection, toVector } from "../sky/horizontal.ts";
import type { Spot } from "../sky/place.ts";
import { trueAltitude } from "../sky/refraction.ts";
import { cross, DEG, dot, plus, RAD, times, turn, unit, type Vector } from "../sky/vector.ts";
import { turned } from "./fit.ts";
import { halfDiagonal, type LensMap, rayAt } from "./lens-map.ts";

/** The J2000 direction that is seen in a direction (east, north, up): a unit vector. */
export function placeOfSeen(spot: Spot, at: EpochMs, seen: Vector): Vector {
	const { azimuth, altitude } = toDirection(seen);
	const [east, north, up] = toVector({ azimuth, altitude: trueAltitude(altitude, spot.air) });
	const frame = frameNear(at);
	const lst = siderealRad(frame, at) + spot.longitude * RAD;
	const [s, c] = [Math.sin(spot.latitude * RAD), Math.cos(spot.latitude * RAD)];
	const meridian = c * up - s * north;
	const [sin, cos] = [Math.sin(lst), Math.cos(lst)];
	const ofDate: Vector = [cos * meridian - sin * east, sin * meridian + cos * east, c * north + s * up];
	const [a, b, z] = frame.toDate;
	const still = plus(plus(times(a, ofDate[0]), times(b, ofDate[1])), times(z, ofDate[2]));
	return unit(plus(still, times(frame.earthVelocity, -1)));
}

/** The middle of a frame with which way its top points: J2000, degrees. */
export function solvedPlace(spot: Spot, at: EpochMs, attitude: Attitude, map: LensMap): Solved {
	const look = (up: number): Vector => placeOfSeen(spot, at, outward(attitude, rayAt(map, 0, up)));
	const middle = look(0);
	const above = look(0.01 * map.focal);
	const rightAscension = turn(Math.atan2(middle[1], middle[0]) * DEG);
	const declination = Math.asin(Math.max(-1, Math.min(1, middle[2]))) * DEG;
	const east = unit(cross([0, 0, 1], middle));
	const north = cross(middle, east);
	return { at, rightAscension, declination, positionAngle: Math.atan2(dot(above, east), dot(above, north)) * DEG };
}

/** What is left of a place when everything else is known, pixels: the shutter, the pixels' grid, a lens that sags. No source. */
const LEFT_PIXELS = 0.05;

export interface MeasuredAxis {
	readonly error: AxisVector;
	readonly covariance: Covariance;
	/** Degrees that the camera was turned by. */
	readonly turn: number;
}

/** A frame as far as its axis minds it. */
export interface Held {
	readonly at: EpochMs;
	readonly attitude: Attitude;
	readonly covariance: readonly Float64Array[];
}

/** The axis from two frames; undefined where the camera was hardly turned in between. */
export function axisBetween(spot: Spot, map: LensMap, first: Held, second: Held): MeasuredAxis | undefined {
	const axis = (a: Attitude, b: Attitude) =>
		axisFromSolved(spot, solvedPlace(spot, first.at, a, map), solvedPlace(spot, second.at, b, map));
	const found = axis(first.attitude, second.attitude);
	if (!found) return undefined;
	const step = 1e-5;
	let covariance: Covariance = { alongAlong: 0, alongAcross: 0, acrossAcross: 0 };
	for (const which of [0, 1] as const) {
		const frame = which === 0 ? first : second;
		const slopes = [0, 1, 2].map((i): AxisVector => {
			const moved = turned(frame.attitude, [i === 0 ? step : 0, i === 1 ? step : 0, i === 2 ? step : 0]);
			const other = which === 0 ? axis(moved, second.attitude) : axis(first.attitude, moved);
			return {
				along: ((other ?? found).error.along - found.error.along) / step,
				across: ((other ?? found).error.across - found.error.across) / step,
			};
		});
		const known = knownTo(frame.covariance, map);
		for (let i = 0; i < 3; i++)
			for (let j = 0; j < 3; j++) {
				const [p, q] = [slopes[i] as AxisVector, slopes[j] as AxisVector];
				const one = known[i]?.[j] ?? 0;
				covariance = {
					alongAlong: covariance.alongAlong + one * p.along * q.along,
					alongAcross: covariance.alongAcross + one * p.along * q.across,
					acrossAcross: covariance.acrossAcross + one * p.across * q.across,
				};
			}
	}
	return { error: found.error, covariance, turn: found.turn };
}

/** An attitude's covariance with what is left in any case, radians squared. */
export function knownTo(covariance: readonly Float64Array[], map: LensMap): readonly (readonly number[])[] {
	const middle = (LEFT_PIXELS / map.focal) ** 2;
	const roll = (LEFT_PIXELS / (halfDiagonal(map) / 2)) ** 2;
	return [0, 1, 2].map((i) =>
		[0, 1, 2].map((j) => (covariance[i]?.[j] ?? 0) + (i === j ? (i < 2 ? middle : roll) : 0)),
	);
}
