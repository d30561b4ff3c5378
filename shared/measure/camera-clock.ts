/** How far a camera's clock is off, by the bearing at which one of its frames looked. */
import type { Solved } from "../alignment/solved-frames.ts";
import type { EpochMs } from "../earth/zone.ts";
import { apparentDirection, type SkyBody, type Spot } from "../sky/place.ts";
import { crossings } from "../sky/roots.ts";
import { halfTurn, RAD } from "../sky/vector.ts";

export interface CameraClock {
	/** Seconds by which the clock is ahead of the true time. */
	readonly ahead: number;
	/** Seconds that a bearing wrong by one degree makes of it. */
	readonly perDegree: number;
}

/** A clock that is farther off than this is of another night, milliseconds. */
const FARTHEST_MS = 12 * 3_600_000;
const STEP_MS = 300_000;

/**
 * The stars say which part of the sky a frame shows, and that part stands at a bearing at one time. `at`: the middle of
 * the exposure by the clock; `facing`: true bearing of the frame's middle, degrees. The time nearest the clock's counts;
 * undefined where the part never stands at that bearing, or does not move along the horizon there.
 */
export function clockByBearing(
	spot: Spot,
	{ rightAscension, declination }: Pick<Solved, "rightAscension" | "declination">,
	at: EpochMs,
	facing: number,
): CameraClock | undefined {
	const middle: SkyBody = { type: "fixed", name: "", rightAscension, declination };
	const bearing = (t: EpochMs): number => apparentDirection(middle, spot, t).azimuth;
	// A bearing half a turn away crosses zero too.
	const found = crossings((t) => Math.sin((bearing(t) - facing) * RAD), at - FARTHEST_MS, at + FARTHEST_MS, STEP_MS)
		.map((one) => one.at)
		.filter((t) => Math.abs(halfTurn(bearing(t) - facing)) < 90)
		.sort((a, b) => Math.abs(a - at) - Math.abs(b - at))[0];
	if (found === undefined) return undefined;
	const perSecond = Math.abs(halfTurn(bearing(found + 30_000) - bearing(found - 30_000))) / 60;
	if (perSecond < SLOWEST) return undefined;
	return { ahead: (at - found) / 1000, perDegree: 1 / perSecond };
}

/** Slower along the horizon than this, a degree of bearing makes an hour, degrees a second. */
const SLOWEST = 1 / 3600;
