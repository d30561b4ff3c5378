/** A frame's stars against what hides the sky in the plan: a lamp is no star, and stars in the ground doubt the plan. */
import type { SolvedFrame } from "../frames/solve.ts";
import { type Cover, hiddenBy } from "../sky/cover.ts";
import { toDirection } from "../sky/horizontal.ts";
import { RAD, type Vector } from "../sky/vector.ts";

/** So far behind an edge a star is hidden, degrees: skylines are seldom known better. */
const SURELY_BEHIND = 1;
/** More than this part of a frame's stars is no chance. */
const TOO_MANY_BEHIND = 0.1;
/** A skyline is seldom so wrong that this part of a frame's stars is behind it; and nothing is seen so far below the horizon. */
const IMPOSSIBLE_PART = 1 / 3;
const BELOW_HORIZON = -1;
const IMPOSSIBLE_BELOW = 3;

/**
 * What shines behind the ground is a lamp or a hot pixel where a star happens to be: it is left out. Where it is much of
 * the frame, not the stars are wrong but the skyline, the clock or the night.
 */
export function beforeGround(frame: SolvedFrame, cover: Cover) {
	const isBehind = (direction: Vector): boolean => {
		const { azimuth, altitude } = toDirection(direction);
		const aside = SURELY_BEHIND / Math.max(0.05, Math.cos(altitude * RAD));
		return [
			{ azimuth, altitude },
			{ azimuth, altitude: Math.min(90, altitude + SURELY_BEHIND) },
			{ azimuth, altitude: altitude - SURELY_BEHIND },
			{ azimuth: azimuth - aside, altitude },
			{ azimuth: azimuth + aside, altitude },
		].every((one) => hiddenBy(cover, one) !== undefined);
	};
	const stars = frame.stars.filter(({ direction }) => !isBehind(direction));
	const behind = frame.stars.length - stars.length;
	const leftOut = behind <= TOO_MANY_BEHIND * frame.stars.length;
	const below = frame.stars.filter(({ direction }) => toDirection(direction).altitude < BELOW_HORIZON).length;
	const impossible = behind > IMPOSSIBLE_PART * frame.stars.length || below >= IMPOSSIBLE_BELOW;
	return { own: leftOut ? { ...frame, stars } : frame, behind, leftOut, impossible };
}
