/**
 * Searches beside the guide stars of a laser: bodies to take a bearing from, and pairs of stars for a sweep, ranked by
 * the axis error that they leave tonight.
 */

import { hemisphere } from "../alignment/axis-error.ts";
import { budgetOf } from "../alignment/budget.ts";
import type { MethodContent } from "../cells/kinds.ts";
import type { EpochMs } from "../earth/zone.ts";
import type { Direction } from "../sky/horizontal.ts";
import { type Interval, totalMinutes } from "../sky/intervals.ts";
import { BODY_NAMES } from "../sky/place.ts";
import { starAt, starColumns } from "../sky/stars.ts";
import { canSight, type MethodPlan, type Tonight } from "./method.ts";
import { skyBearing } from "./sky-bearing/sky-bearing.ts";
import { CLOSEST_PAIR, starSweep } from "./star-sweep/star-sweep.ts";

export interface BearingBody {
	readonly name: string;
	readonly at: EpochMs;
	readonly windows: readonly Interval[];
	readonly direction: Direction;
	/** Axis error that it leaves, 95 %, degrees. */
	readonly radius95: number;
}

/** Stars bright enough to be found without a map: V. Common practice, no source. */
const UNMISTAKABLE = 1.3;
/** A window shorter than this is not worth planning on, minutes. */
const SHORTEST_WINDOW = 10;

const worksWith = (plan: MethodPlan): boolean =>
	plan.obstacles.length === 0 && totalMinutes(plan.windows) >= SHORTEST_WINDOW;

/** Planets, the Moon and unmistakable stars whose bearing serves tonight, the finest first; never the Sun. */
export function bearingBodies(
	method: Pick<MethodContent, "uncertainty">,
	tonight: Tonight,
	most = 12,
): readonly BearingBody[] {
	const { magnitude } = starColumns();
	const names: string[] = BODY_NAMES.filter((name) => !["sun", "galactic-centre", "uranus", "neptune"].includes(name));
	magnitude.forEach((value, index) => {
		if (value < UNMISTAKABLE) names.push(starAt(index).name);
	});
	const found = names.flatMap((name): BearingBody[] => {
		const plan = skyBearing.plan({ ...method, kind: "sky-bearing", body: name }, tonight);
		const [mark] = plan.setUp.marks ?? [];
		if (!worksWith(plan) || !mark || plan.at === undefined) return [];
		return [
			{
				name: mark.name,
				at: plan.at,
				windows: plan.windows,
				direction: mark.direction,
				radius95: budgetOf(plan.sources).radius95,
			},
		];
	});
	return found.sort((a, b) => a.radius95 - b.radius95).slice(0, most);
}

export interface SweepPair {
	readonly names: readonly [string, string];
	readonly at: EpochMs;
	readonly windows: readonly Interval[];
	/** Hour angle between them, degrees. */
	readonly spread: number;
	readonly radius95: number;
}

/** Stars of a sweep are looked for down to this magnitude, and at most this many are paired. */
const SWEEP_FAINTEST = 4;
const PAIRED = 14;

/** Pairs of stars within reach of the circle that a pointer at `offset` sweeps, both in view at once, the finest first. */
export function sweepPairs(
	method: Pick<MethodContent, "uncertainty">,
	tonight: Tonight,
	offset: number,
	reach: number,
	most = 8,
): readonly SweepPair[] {
	const { declination, magnitude } = starColumns();
	const circle = hemisphere(tonight.spot.latitude) * (90 - offset);
	const candidates: number[] = [];
	declination.forEach((value, index) => {
		if (Math.abs(value - circle) <= reach + 0.3 && (magnitude[index] as number) <= SWEEP_FAINTEST)
			candidates.push(index);
	});
	const moments = tonight.night.sunDark.flatMap(({ from, until }) =>
		Array.from({ length: 7 }, (_, i) => from + ((until - from) * i) / 6),
	);
	const seen = candidates
		.filter((index) => {
			const star = starAt(index);
			return moments.some(
				(at) =>
					at >= tonight.onSite.from &&
					at <= tonight.onSite.until &&
					canSight({ type: "star", name: star.name, star }, tonight, at),
			);
		})
		.sort((a, b) => (magnitude[a] as number) - (magnitude[b] as number))
		.slice(0, PAIRED);
	const { rightAscension } = starColumns();
	const pairs: SweepPair[] = [];
	seen.forEach((first, i) => {
		for (const second of seen.slice(i + 1)) {
			const apart = Math.abs(
				(((rightAscension[first] as number) - (rightAscension[second] as number) + 540) % 360) - 180,
			);
			if (apart < CLOSEST_PAIR || apart > 180 - CLOSEST_PAIR) continue;
			const names = [starAt(first).name, starAt(second).name] as const;
			const plan = starSweep.plan({ ...method, kind: "star-sweep", stars: names, offset, reach }, tonight);
			if (!worksWith(plan) || plan.at === undefined || plan.setUp.spread === undefined) continue;
			pairs.push({
				names,
				at: plan.at,
				windows: plan.windows,
				spread: plan.setUp.spread,
				radius95: budgetOf(plan.sources).radius95,
			});
		}
	});
	return pairs.sort((a, b) => a.radius95 - b.radius95).slice(0, most);
}
