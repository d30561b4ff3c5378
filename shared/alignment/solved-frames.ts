/**
 * The axis from two frames whose stars were identified. Between them the camera, fixed on the plate, was turned about
 * the tracker's axis: by hand, by the drive, or both. The turn that takes the camera's first orientation over the
 * ground to the second one has the axis as its own.
 */
import type { EpochMs } from "../earth/zone.ts";
import { type Direction, toDirection, toVector } from "../sky/horizontal.ts";
import { apparentDirection, type Spot } from "../sky/place.ts";
import { cross, DEG, dot, fromAngles, length, plus, RAD, times, unit, type Vector } from "../sky/vector.ts";
import { type AxisVector, hemisphere } from "./axis-error.ts";
import { axisErrorOf } from "./pointer.ts";

export interface Solved {
	readonly at: EpochMs;
	/** Degrees, J2000. */
	readonly rightAscension: number;
	readonly declination: number;
	/** Of the frame's up, from north through east. */
	readonly positionAngle: number;
}

export interface SolvedAxis {
	readonly error: AxisVector;
	/** Turn between the frames, degrees. */
	readonly turn: number;
	/** One standard deviation in any direction, degrees. */
	readonly spread: number;
}

/** How well a frame's orientation is known, degrees: common practice, no source. */
const SOLVED_TO = 20 / 3600;
/** A smaller turn than this does not tell the axis, degrees. */
export const LEAST_TURN = 2;

/** Undefined when the camera turned by less than 2° between the frames. */
export function axisFromSolved(spot: Spot, first: Solved, second: Solved): SolvedAxis | undefined {
	const before = orientation(spot, first);
	const after = orientation(spot, second);
	// Rows of the turn R = after · beforeᵀ in the local frame.
	const rows = [0, 1, 2].map((i): Vector => {
		const row = [0, 1, 2].map((j) =>
			[0, 1, 2].reduce((sum, k) => sum + (after[k] as Vector)[i as 0] * (before[k] as Vector)[j as 0], 0),
		);
		return row as unknown as Vector;
	}) as [Vector, Vector, Vector];
	const twist: Vector = [rows[2][1] - rows[1][2], rows[0][2] - rows[2][0], rows[1][0] - rows[0][1]];
	const trace = rows[0][0] + rows[1][1] + rows[2][2];
	const turn = Math.atan2(length(twist), trace - 1) * DEG;
	if (turn < LEAST_TURN || length(twist) < 1e-9) return undefined;
	// Either end of the axis serves: the one near the elevated pole is meant.
	const pole: Vector = [
		0,
		hemisphere(spot.latitude) * Math.cos(spot.latitude * RAD),
		Math.abs(Math.sin(spot.latitude * RAD)),
	];
	const axis = unit(twist);
	const end = dot(axis, pole) < 0 ? times(axis, -1) : axis;
	return {
		error: axisErrorOf(spot.latitude, toDirection(end)),
		turn,
		spread: SOLVED_TO / Math.max(2 * Math.sin((turn / 2) * RAD), 1e-6),
	};
}

/** The camera's forward, up and right over the ground (east, north, up), as the frame shows them: refraction included. */
function orientation(
	spot: Spot,
	{ at, rightAscension, declination, positionAngle }: Solved,
): readonly [Vector, Vector, Vector] {
	const seen = (ra: number, dec: number): Direction =>
		apparentDirection({ type: "fixed", name: "frame", rightAscension: ra, declination: dec }, spot, at);
	const forward = toVector(seen(rightAscension, declination));
	// A point a little off the middle in the direction of the frame's up.
	const [ra, dec, pa] = [rightAscension * RAD, declination * RAD, positionAngle * RAD];
	const north: Vector = [-Math.sin(dec) * Math.cos(ra), -Math.sin(dec) * Math.sin(ra), Math.cos(dec)];
	const east: Vector = [-Math.sin(ra), Math.cos(ra), 0];
	const off = unit(plus(fromAngles(ra, dec), times(plus(times(north, Math.cos(pa)), times(east, Math.sin(pa))), 0.01)));
	const above = toVector(seen(Math.atan2(off[1], off[0]) * DEG, Math.asin(off[2]) * DEG));
	const up = unit(plus(above, times(forward, -dot(above, forward))));
	return [forward, up, cross(forward, up)];
}
