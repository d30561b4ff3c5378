/** A composition that comes back on another date: the moment at which a target comes to a bearing, or to an altitude. */
import { type EpochMs, minuteOf } from "../../earth/zone.ts";
import type { Direction } from "../../sky/horizontal.ts";
import { contains, type Interval } from "../../sky/intervals.ts";
import { crossings } from "../../sky/roots.ts";
import { halfTurn, turn } from "../../sky/vector.ts";
import type { Composition, TargetEntry } from "./keys.ts";

const STEP_MS = 600_000;
/** From here on the sign of a difference of bearings jumps because the bearing is the opposite one, degrees. */
const OPPOSITE = 90;

/** The clock time that the plan writes. */
export const clockOfEntry = ({ from, at }: TargetEntry): number | undefined =>
	from ?? (typeof at === "number" ? at : undefined);

/** The composition that says when a target begins; a clock time goes before it. */
export const compositionOf = ({ from, at }: TargetEntry): Composition | undefined =>
	from === undefined && typeof at === "object" ? (at as Composition) : undefined;

/** Whether a composition names a compass reading. */
export const isMagnetic = (composition: Composition | undefined): boolean =>
	composition !== undefined && "bearing" in composition && composition.bearing?.north === "magnetic";

/**
 * The whole minute nearest to its coming about while one is on site: in the first list of times that has one. `magnetic`:
 * the magnetic declination, for a compass reading.
 */
export function momentOf(
	composition: Composition,
	directionAt: (at: EpochMs) => Direction,
	onSite: Interval,
	lists: readonly (readonly Interval[])[],
	zone: string,
	magnetic: number,
): EpochMs | undefined {
	const moments = passesOf(composition, directionAt, onSite, magnetic).map((at) => minuteOf(zone, at));
	for (const list of lists) {
		const first = moments.find((at) => contains(list, at));
		if (first !== undefined) return first;
	}
	return moments[0];
}

/** All moments at which it comes about, as they are. `magnetic`: the magnetic declination, for a compass reading. */
export function passesOf(
	composition: Composition,
	directionAt: (at: EpochMs) => Direction,
	{ from, until }: Interval,
	magnetic: number,
): readonly EpochMs[] {
	if ("bearing" in composition && composition.bearing) {
		const { degrees, north } = composition.bearing;
		const wanted = north === "true" ? degrees : turn(degrees + magnetic);
		const beside = (at: EpochMs): number => halfTurn(directionAt(at).azimuth - wanted);
		return crossings(beside, from, until, STEP_MS)
			.filter(({ at }) => Math.abs(beside(at)) < OPPOSITE)
			.map(({ at }) => at);
	}
	if (!("altitude" in composition) || composition.altitude === undefined) return [];
	const { altitude, setting = false } = composition;
	return crossings((at) => directionAt(at).altitude - altitude, from, until, STEP_MS)
		.filter(({ rising }) => rising !== setting)
		.map(({ at }) => at);
}
