/** Where a pointer at a fixed angle to the axis must point, and what axis follows from where it points. */
import { type Direction, toDirection, toVector } from "../sky/horizontal.ts";
import { cross, dot, halfTurn, length, plus, RAD, times, turn, unit, type Vector } from "../sky/vector.ts";
import { type AxisVector, poleBearing } from "./axis-error.ts";

/** Angle between axis and pointer where the plan does not say, degrees. */
export const DEFAULT_OFFSET = 90;
/** How far from the aim point a guide star may pass and still be used, degrees. Common practice, no source. */
export const DEFAULT_REACH = 1;

/**
 * The aim point of a pointer at `offset` degrees to the axis, in the axis's vertical plane, on the equator's side: on
 * the meridian at altitude 180° − offset − |φ| above the equator-ward horizon (for 90°: the celestial equator,
 * 90° − |φ|). When offset + |φ| is under 90° the aim point lies past the zenith on the pole's side.
 */
export function aimPoint(latitude: number, offset: number): Direction & { readonly side: "equator" | "pole" } {
	const fromPoleHorizon = Math.abs(latitude) + offset;
	if (fromPoleHorizon < 90) return { azimuth: poleBearing(latitude), altitude: fromPoleHorizon, side: "pole" };
	return { azimuth: turn(poleBearing(latitude) + 180), altitude: 180 - fromPoleHorizon, side: "equator" };
}

/** The axis of a level head whose pointer, at `offset` to the axis, points in a direction. */
export function axisOfPointer(pointer: Direction, offset: number, side: "equator" | "pole"): Direction {
	return side === "equator"
		? { azimuth: turn(pointer.azimuth + 180), altitude: 180 - offset - pointer.altitude }
		: { azimuth: pointer.azimuth, altitude: pointer.altitude - offset };
}

/** The axis error of an axis that points in a direction: exact on the sphere, the inverse of `axisVector`. */
export function axisErrorOf(latitude: number, axis: Direction): AxisVector {
	const bearing = poleBearing(latitude);
	const pole = toVector({ azimuth: bearing, altitude: Math.abs(latitude) });
	const pointing = toVector(axis);
	const angle = (Math.atan2(length(cross(pole, pointing)), dot(pole, pointing)) * 180) / Math.PI;
	if (angle === 0) return { along: 0, across: 0 };
	const up = toVector({ azimuth: bearing, altitude: Math.abs(latitude) + 90 });
	const clockwise = toVector({ azimuth: bearing + 90, altitude: 0 });
	const offPole = unit(plus(pointing, times(pole, -dot(pole, pointing))));
	return { along: angle * dot(offPole, up), across: angle * dot(offPole, clockwise) };
}

/** The direction so many degrees to the right of and above another, as one faces it: the inverse of `missOf`. */
export function beside(from: Direction, right: number, up: number): Direction {
	const total = Math.hypot(right, up) * RAD;
	if (total === 0) return from;
	const out: Vector = [Math.cos(from.azimuth * RAD), -Math.sin(from.azimuth * RAD), 0];
	const above = toVector({ azimuth: from.azimuth, altitude: from.altitude + 90 });
	const way = unit(plus(times(out, right), times(above, up)));
	return toDirection(plus(times(toVector(from), Math.cos(total)), times(way, Math.sin(total))));
}

/** How far a mark is from where it should be, degrees on the sky as one faces it. */
export interface Miss {
	readonly total: number;
	readonly right: number;
	readonly up: number;
}

/**
 * Where `mark` stands beside `aim`, with right and up as one faces the mark: the way from the mark to the aim point,
 * turned about. High up right and up at the one place are not those at the other (near the zenith one degree to the side
 * turns them by as many degrees as the altitude's tangent), and the hand works at the mark.
 */
export function missFacing(aim: Direction, mark: Direction): Miss {
	const { total, right, up } = missOf(mark, aim);
	return { total, right: 0 - right, up: 0 - up };
}

/** `mark` as seen from `aim`: right and up on the sky, degrees (tangent plane at the aim point). */
export function missOf(aim: Direction, mark: Direction): Miss {
	const turnRad = halfTurn(mark.azimuth - aim.azimuth) * RAD;
	const [sinA, cosA] = [Math.sin(aim.altitude * RAD), Math.cos(aim.altitude * RAD)];
	const [sinM, cosM] = [Math.sin(mark.altitude * RAD), Math.cos(mark.altitude * RAD)];
	const x = cosM * Math.sin(turnRad);
	const y = sinM * cosA - cosM * sinA * Math.cos(turnRad);
	const z = sinM * sinA + cosM * cosA * Math.cos(turnRad);
	const sin = Math.hypot(x, y);
	const total = Math.atan2(sin, z) / RAD;
	return sin === 0 ? { total, right: 0, up: 0 } : { total, right: (x / sin) * total, up: (y / sin) * total };
}
