/**
 * What a head that is not level does to a bearing, with the tilt by scale.
 *
 * The pan axis leans by b sideways (about the horizontal line toward the pole) and by f fore and aft (about the one
 * across it). A point at altitude h and bearing Δ, clockwise from the pole, is then found tan h (b cos Δ + f sin Δ) away
 * in bearing: to first order a lean is a small turn about a horizontal line, and a turn about the line at Δ = 0 moves a
 * point at altitude h in bearing by tan h cos Δ.
 *
 * What a lean fore and aft does to the tilt itself counts with the tilt scale.
 */
import { RAD } from "../sky/vector.ts";
import type { AxisVector } from "./axis-error.ts";

/**
 * For one degree of lean sideways, where the pan is turned until the axis lies along a bearing read at the head's own
 * horizon (a compass on it): the axis, at altitude φ and Δ = 0, is tan φ away in bearing, sin φ on the sky.
 */
export const levelOfReading = (latitude: number): AxisVector => ({
	along: 0,
	across: Math.sin(Math.abs(latitude) * RAD),
});

/**
 * For one degree of lean, sideways and fore and aft, where the axis is put into the vertical plane of a mark by a plumb
 * line and the pan then turned by the difference of bearings: the axis is right at Δ whatever the lean, and the turn
 * about the leaning pan axis takes it, at altitude φ all the way, from tan φ (b cos Δ + f sin Δ) to tan φ b. On the sky:
 * sin φ (b (1 − cos Δ) − f sin Δ). The mark's own altitude is not in it: the plumb line has taken it out.
 */
export function levelOfTurn(latitude: number, turnFromPole: number): readonly [AxisVector, AxisVector] {
	const { across } = levelOfReading(latitude);
	return [
		{ along: 0, across: across * (1 - Math.cos(turnFromPole * RAD)) },
		{ along: 0, across: -across * Math.sin(turnFromPole * RAD) },
	];
}
