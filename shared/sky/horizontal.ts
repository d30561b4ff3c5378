/**
 * Directions at a stand: azimuth from true north through east and altitude, in degrees, and the local frame
 * x east, y north, z up that their vectors are written in.
 */
import { DEG, fromAngles, RAD, separation, turn, type Vector } from "./vector.ts";

export interface Direction {
	readonly azimuth: number;
	readonly altitude: number;
}

/** Unit vector (east, north, up) of a direction. */
export function toVector({ azimuth, altitude }: Direction): Vector {
	return fromAngles((90 - azimuth) * RAD, altitude * RAD);
}

/** Angle between two directions, degrees. */
export const apart = (a: Direction, b: Direction): number => separation(toVector(a), toVector(b));

/** A unit vector (east, north, up) as azimuth from north through east and altitude, degrees. */
export const toDirection = ([east, north, up]: Vector): Direction => directionOf(east, north, up);

/** The same of its parts. */
export function directionOf(east: number, north: number, up: number): Direction {
	return {
		azimuth: turn(Math.atan2(east, north) * DEG),
		altitude: Math.atan2(up, Math.sqrt(east * east + north * north)) * DEG,
	};
}

/** A vector of date as (east, north, up) of a stand. `lst` is local apparent sidereal time, radians. */
export function toLocal(vector: Vector, lst: number, latitude: number): Vector {
	const c = Math.cos(lst);
	const s = Math.sin(lst);
	const meridian = c * vector[0] + s * vector[1];
	const east = -s * vector[0] + c * vector[1];
	const sinLatitude = Math.sin(latitude * RAD);
	const cosLatitude = Math.cos(latitude * RAD);
	return [east, -sinLatitude * meridian + cosLatitude * vector[2], cosLatitude * meridian + sinLatitude * vector[2]];
}
