/** Where a pointer at a fixed angle to the axis must point, and what axis follows from where it points. */
import { type Direction, toVector } from "../sky/horizontal.ts";
import { cross, dot, length, plus, times, turn, unit } from "../sky/vector.ts";
import { type AxisVector, poleBearing } from "./axis-error.ts";

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

/** Where the aim point lies as seen from a mark, in words: `0.3° to the left and 0.8° below Spica`, or `on Spica`. */
export function correctionWords(
	miss: { readonly right: number; readonly up: number },
	mark: string,
	degrees: (value: number) => string,
): string {
	const sideways =
		Math.abs(miss.right) >= 0.05 ? `${degrees(Math.abs(miss.right))} to the ${miss.right > 0 ? "left" : "right"}` : "";
	const upright = Math.abs(miss.up) >= 0.05 ? `${degrees(Math.abs(miss.up))} ${miss.up > 0 ? "below" : "above"}` : "";
	if (upright !== "") return `${sideways}${sideways === "" ? "" : " and "}${upright} ${mark}`;
	return sideways === "" ? `on ${mark}` : `${sideways} of ${mark}`;
}
