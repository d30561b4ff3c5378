/** How a camera is held: the directions its frame's right, top and middle look in, and how a tracker carries them. */
import { SKY_RATE_RAD } from "../sky/frame.ts";
import { type Direction, toVector } from "../sky/horizontal.ts";
import { cross, RAD, times, turnAbout, type Vector } from "../sky/vector.ts";

/** Unit vectors (east, north, up), at right angles to each other. */
export interface Attitude {
	readonly right: Vector;
	readonly up: Vector;
	readonly forward: Vector;
}

/** A camera held level whose middle looks in a direction. */
export function heldLevel(aim: Direction): Attitude {
	const forward = toVector(aim);
	const up = toVector({ azimuth: aim.azimuth, altitude: aim.altitude + 90 });
	return { right: cross(forward, up), up, forward };
}

/** Unit vector of the celestial north pole at a latitude. */
export const northPole = (latitude: number): Vector => [0, Math.cos(latitude * RAD), Math.sin(latitude * RAD)];

/** The attitude after a tracker at a rate (1 sidereal, 0 standing still) has carried the camera for some seconds. */
export function carried(attitude: Attitude, latitude: number, seconds: number, rate: number): Attitude {
	if (rate === 0 || seconds === 0) return attitude;
	const pole = northPole(latitude);
	const turned = (v: Vector): Vector => turnAbout(pole, -rate * SKY_RATE_RAD * seconds, v);
	return { right: turned(attitude.right), up: turned(attitude.up), forward: turned(attitude.forward) };
}

/** The direction of a ray of the camera: x right, y up, z along its axis. */
export function outward({ right, up, forward }: Attitude, [x, y, z]: Vector): Vector {
	return [
		right[0] * x + up[0] * y + forward[0] * z,
		right[1] * x + up[1] * y + forward[1] * z,
		right[2] * x + up[2] * y + forward[2] * z,
	];
}

/** How far the camera is turned about its line of sight from level: degrees, clockwise as it looks, −180 … 180. */
export function rollOf({ right, up }: Attitude): number {
	return Math.atan2(times(right, -1)[2], up[2]) / RAD;
}
