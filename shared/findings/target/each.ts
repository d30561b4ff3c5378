/** The targets of a plan that could be reckoned, with their cell. */

import type { EvaluatedNight } from "../../cells/night/night.ts";
import type { EvaluatedTarget } from "../../cells/targets/target.ts";
import { clockOf, type EpochMs } from "../../earth/zone.ts";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import type { Cell } from "../../plan/plan.ts";
import { both, type Interval, totalMinutes } from "../../sky/intervals.ts";

export interface EachTarget {
	readonly cell: Cell;
	readonly target: EvaluatedTarget;
	readonly night: EvaluatedNight;
	readonly clock: (at: EpochMs) => string;
	/** Minutes of the series outside a list of times. */
	readonly minutesOutside: (list: readonly Interval[]) => number;
	/** Path of what says when it starts, else of its name. */
	readonly timePath: string;
}

export function* eachTarget({ targets, night }: Evaluation): Iterable<EachTarget> {
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
