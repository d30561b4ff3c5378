/** The obstacles of the plan's methods, with their cells: what the rules of this folder put into words. */

import type { EvaluatedMethod } from "../../cells/method/method.ts";
import type { EpochMs } from "../../earth/zone.ts";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import type { Obstacle } from "../../methods/method.ts";
import { exactNightClock } from "../../notation/night-clock.ts";
import type { Cell } from "../../plan/plan.ts";

export interface ObstacleAt<T extends Obstacle["type"]> {
	readonly cell: Cell;
	readonly method: EvaluatedMethod;
	readonly obstacle: Extract<Obstacle, { type: T }>;
	/** Site's clock of an instant. */
	readonly clock: (at: EpochMs) => string;
	/** Site's clock of the moment the obstacle's numbers are for: its own, else the method's. */
	readonly when: string;
}

const OF_AIMS: ReadonlySet<Obstacle["type"]> = new Set(["aim-hidden", "aim-below-horizon"]);
const OF_MARKS: ReadonlySet<Obstacle["type"]> = new Set(["never-near", "not-there", "hidden"]);

export function* obstaclesOf<T extends Obstacle["type"]>(
	{ methods, night }: Evaluation,
	...types: readonly T[]
): Iterable<ObstacleAt<T>> {
	if (!night) return;
	const clock = (at: EpochMs): string => exactNightClock(night, at);
	for (const { cell, value: method } of methods) {
		if (!method) continue;
		const { obstacles, at } = method.setUp;
		for (const obstacle of obstacles) {
			if (!(types as readonly string[]).includes(obstacle.type)) continue;
			// Where the aim point cannot be seen, no mark is right: the aim's own finding says it.
			if (OF_MARKS.has(obstacle.type) && obstacles.some(({ type }) => OF_AIMS.has(type))) continue;
			const then = ("at" in obstacle ? obstacle.at : undefined) ?? at;
			const when = then === undefined ? "" : clock(then);
			yield { cell, method, obstacle: obstacle as Extract<Obstacle, { type: T }>, clock, when };
		}
	}
}
