/** What follows from a shower beside a target: its peak, and where its radiant is while the frames are taken. */
import type { EpochMs } from "../../earth/zone.ts";
import { lazily } from "../../memory/memory.ts";
import { apart, type Direction } from "../../sky/horizontal.ts";
import type { Interval } from "../../sky/intervals.ts";
import { apparentDirection, type Spot } from "../../sky/place.ts";
import { findShower, isActive, peakNear, radiantAt, type Shower } from "../../sky/showers.ts";

const STEP_MS = 600_000;
const DAY_MS = 86_400_000;

/** Each computed when it is first asked for. */
export interface TargetShower {
	readonly shower: Shower;
	/** The one that is nearest to the frames, and how many days the middle of the frames is after it. */
	readonly peak: () => EpochMs;
	readonly days: () => number;
	readonly active: () => boolean;
	/** Degrees, J2000, half-way through the frames. */
	readonly radiant: () => { readonly rightAscension: number; readonly declination: number };
	/** Where it is seen. */
	readonly radiantAt: (at: EpochMs) => Direction;
	/** How far the middle of the frame is from it half-way through the frames, degrees. */
	readonly away: () => number;
	/** When it is highest while it is dark and one is on site. */
	readonly highest: () => { readonly at: EpochMs; readonly altitude: number } | undefined;
}

/** Undefined where the plan names none. */
export function showerOf(
	name: string | undefined,
	spot: Spot,
	series: Interval,
	dark: readonly Interval[],
	directionAt: (at: EpochMs) => Direction,
): TargetShower | undefined {
	const shower = name === undefined ? undefined : findShower(name);
	if (!shower) return undefined;
	const middle = (series.from + series.until) / 2;
	const seenAt = (at: EpochMs): Direction =>
		apparentDirection({ type: "fixed", name: shower.name, ...radiantAt(shower, at) }, spot, at);
	const peak = lazily(() => peakNear(shower, middle));
	return {
		shower,
		peak,
		days: () => (middle - peak()) / DAY_MS,
		active: lazily(() => isActive(shower, middle)),
		radiant: lazily(() => radiantAt(shower, middle)),
		radiantAt: seenAt,
		away: lazily(() => apart(seenAt(middle), directionAt(middle))),
		highest: lazily(() =>
			dark
				.flatMap(({ from, until }) =>
					Array.from({ length: Math.floor((until - from) / STEP_MS) + 1 }, (_, i) => from + i * STEP_MS),
				)
				.map((at) => ({ at, altitude: seenAt(at).altitude }))
				.reduce<{ at: EpochMs; altitude: number } | undefined>(
					(best, one) => (best && best.altitude >= one.altitude ? best : one),
					undefined,
				),
		),
	};
}
