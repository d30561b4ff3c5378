/** Where the Moon is while a target's frames are taken, and when it lights the ground from a side. */
import type { EpochMs } from "../../earth/zone.ts";
import { apart, type Direction } from "../../sky/horizontal.ts";
import { both, type Interval } from "../../sky/intervals.ts";
import { moonIllumination } from "../../sky/night.ts";
import { apparentDirection, findBody } from "../../sky/place.ts";
import { whereTrue } from "../../sky/roots.ts";
import { halfTurn } from "../../sky/vector.ts";
import type { EvaluatedNight } from "../night/night.ts";
import type { EvaluatedSite } from "../site/site.ts";
import type { FramePoint } from "./framing.ts";
import type { SIDES } from "./keys.ts";
import { isVisible } from "./visible.ts";

const STEP_MS = 600_000;

export type Side = keyof typeof SIDES;

/** Degrees of bearing off the frame's: ahead up to this, behind from 180° less this. */
const QUARTER = 45;

/** On which side of a bearing another one is. */
export function sideOf(bearing: number, facing: number): Side {
	const beside = halfTurn(bearing - facing);
	if (Math.abs(beside) <= QUARTER) return "ahead";
	if (Math.abs(beside) >= 180 - QUARTER) return "behind";
	return beside < 0 ? "left" : "right";
}

const MOON = findBody("moon");
/** Where the Moon is seen. */
export const moonAt = ({ spot }: EvaluatedSite, at: EpochMs): Direction =>
	MOON ? apparentDirection(MOON, spot, at) : { azimuth: 0, altitude: -90 };

/** The Moon during the frames: where it is first and last seen above a level horizon. */
export interface TargetMoon {
	readonly up: readonly Interval[];
	/** When it is first and last up during the frames. */
	readonly from: EpochMs;
	readonly until: EpochMs;
	readonly start: Direction;
	readonly end: Direction;
	/** 0 … 1, half-way through. */
	readonly illumination: number;
	/** From the middle of the frame at its start, degrees. */
	readonly away: number;
	/** On which side of the frame it is half-way through; `in-frame` where it is in the frame at its start, middle or end. */
	readonly side: Side | "in-frame";
	/** Whether something hides it all the while. */
	readonly hidden: boolean;
	/** When it rises or sets during the frames, at a level horizon. */
	readonly rises: EpochMs | undefined;
	readonly sets: EpochMs | undefined;
}

/** Undefined where it is down all the while. `place`: where a direction falls in the frame at a moment. */
export function moonDuring(
	site: EvaluatedSite,
	{ sky }: EvaluatedNight,
	series: Interval,
	directionAt: (at: EpochMs) => Direction,
	place: ((direction: Direction, at: EpochMs) => FramePoint | undefined) | undefined,
): TargetMoon | undefined {
	const up = both(sky.moonUp, [series]);
	const [first, last] = [up[0], up.at(-1)];
	if (!first || !last) return undefined;
	const [from, until] = [first.from, last.until];
	const middle = (from + until) / 2;
	const looks = [from, middle, until];
	const inside = (list: readonly EpochMs[]): EpochMs | undefined =>
		list.find((at) => at > series.from && at < series.until);
	return {
		up,
		from,
		until,
		start: moonAt(site, from),
		end: moonAt(site, until),
		illumination: moonIllumination(middle),
		away: apart(moonAt(site, from), directionAt(from)),
		side: looks.some((at) => place?.(moonAt(site, at), at) !== undefined)
			? "in-frame"
			: sideOf(moonAt(site, middle).azimuth, directionAt(middle).azimuth),
		hidden: !looks.some((at) => isVisible(site.cover, moonAt(site, at), undefined)),
		rises: inside(sky.moonrise),
		sets: inside(sky.moonset),
	};
}

/** When the Moon, seen from the spot, lights the ground of a frame that faces a bearing, from a side or from any. */
export function moonlightOn(
	site: EvaluatedSite,
	{ sky }: EvaluatedNight,
	facing: number,
	side: Side | undefined,
): readonly Interval[] {
	const { "civil-dusk": dusk, "civil-dawn": dawn } = sky.sun;
	if (dusk === undefined || dawn === undefined || dusk >= dawn) return [];
	return both(sky.moonUp, [{ from: dusk, until: dawn }]).flatMap((stretch) =>
		whereTrue(
			(at) => {
				const moon = moonAt(site, at);
				return isVisible(site.cover, moon, undefined) && (side === undefined || sideOf(moon.azimuth, facing) === side);
			},
			stretch,
			STEP_MS,
		),
	);
}
