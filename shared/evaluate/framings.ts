/** How a target is wanted in the sky for a night to count, and when it is so. Angles are degrees, bearings true. */
import type { PlacedTarget } from "../cells/targets/target.ts";
import { both, type Interval } from "../sky/intervals.ts";
import { apparentDirection, type Spot } from "../sky/place.ts";
import { whereTrue } from "../sky/roots.ts";
import { turn } from "../sky/vector.ts";

/** All that is given must hold at once. */
export interface WantedFraming {
	/** The name of the one target that counts; else any. */
	readonly target?: string | undefined;
	/** From the first clockwise to the second. */
	readonly bearings?: readonly [from: number, until: number] | undefined;
	/** Lowest altitude. */
	readonly above?: number | undefined;
	/** The Milky Way's arch from foot to foot; no other target counts. */
	readonly wholeArch?: boolean | undefined;
	/** Whether a level frame centred on it shows it whole with ground under it. */
	readonly withGround?: boolean | undefined;
}

const STEP_MS = 600_000;

/** When a target, while it is usable, is as it is wanted; its name is not looked at. */
export function framedAsWanted(
	target: PlacedTarget,
	{ bearings, above, wholeArch, withGround }: WantedFraming,
	spot: Spot,
): readonly Interval[] {
	const { body, fixed, usable } = target;
	let times = usable;
	if (wholeArch) times = both(times, target.arch?.whole() ?? []);
	if (withGround) times = both(times, target.framing?.fits() ?? []);
	if (bearings === undefined && above === undefined) return times;
	const wide = bearings && turn(bearings[1] - bearings[0]);
	return times.flatMap((stretch) =>
		whereTrue(
			(at) => {
				const { azimuth, altitude } = fixed ?? (body ? apparentDirection(body, spot, at) : target.directionAt(at));
				return (
					(above === undefined || altitude >= above) &&
					(bearings === undefined || wide === undefined || turn(azimuth - bearings[0]) <= wide)
				);
			},
			stretch,
			STEP_MS,
		),
	);
}
