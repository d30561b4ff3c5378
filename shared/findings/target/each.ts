/** The targets of a plan that could be reckoned, with their cell. */

import { clockOf, type EpochMs } from "../../earth/zone.ts";
import type { Cell } from "../../plan/plan.ts";
import type { NightReckoning } from "../../reckon/night.ts";
import type { TargetReckoning } from "../../reckon/target.ts";
import type { Reckoning } from "../../reckon.ts";
import { both, type Interval, totalMinutes } from "../../sky/intervals.ts";

export interface EachTarget {
	readonly cell: Cell;
	readonly target: TargetReckoning;
	readonly night: NightReckoning;
	readonly clock: (at: EpochMs) => string;
	/** Minutes of the series outside a list of times. */
	readonly minutesOutside: (list: readonly Interval[]) => number;
	/** Path of what says when it starts, else of its name. */
	readonly timePath: string;
}

export function* eachTarget({ targets, night }: Reckoning): Iterable<EachTarget> {
	if (!targets || !night) return;
	const { cell } = targets;
	for (const target of targets.value ?? []) {
		if (!target) continue;
		const { entry, index, series } = target;
		const timePath = `${index}.${entry.from !== undefined ? "from" : entry.at !== undefined ? "at" : "name"}`;
		yield {
			cell,
			target,
			night,
			clock: (at) => clockOf(night.zone, at),
			minutesOutside: (list) => totalMinutes([series]) - totalMinutes(both(list, [series])),
			timePath,
		};
	}
}

/** `never`, or `19:40–21:10`. */
export function timesText(list: readonly Interval[], clock: (at: EpochMs) => string): string {
	return list.length === 0
		? "at no time of the stay"
		: list.map(({ from, until }) => `${clock(from)}–${clock(until)}`).join(", ");
}
