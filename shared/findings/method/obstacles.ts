/** The obstacles of the plan's methods, with their cells: what the rules of this folder put into words. */

import type { EvaluatedMethod } from "../../cells/method/method.ts";
import { clockOf, type EpochMs } from "../../earth/zone.ts";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import type { Obstacle } from "../../methods/method.ts";
import type { Cell } from "../../plan/plan.ts";

export interface ObstacleAt<T extends Obstacle["type"]> {
	readonly cell: Cell;
	readonly method: EvaluatedMethod;
	readonly obstacle: Extract<Obstacle, { type: T }>;
	/** Site's clock of an instant. */
	readonly clock: (at: EpochMs) => string;
	/** Site's clock of the method's time, for messages. */
	readonly when: string;
}

export function* obstaclesOf<T extends Obstacle["type"]>(
	{ methods, night }: Evaluation,
	...types: readonly T[]
): Iterable<ObstacleAt<T>> {
	if (!night) return;
	const clock = (at: EpochMs): string => clockOf(night.zone, at);
	for (const { cell, value: method } of methods) {
		if (!method) continue;
		for (const obstacle of method.plan.obstacles) {
			if (!(types as readonly string[]).includes(obstacle.type)) continue;
			yield {
				cell,
				method,
				obstacle: obstacle as Extract<Obstacle, { type: T }>,
				clock,
				when: method.plan.at === undefined ? "" : clock(method.plan.at),
			};
		}
	}
}

/** The key that names what a method points at. */
export function markKey(method: EvaluatedMethod, name: string): string {
	const { content: cell } = method;
	if (cell.stars) {
		const index = method.plan.setUp.marks?.findIndex((mark) => mark.name === name) ?? -1;
		return index < 0 ? "stars" : `stars.${index}`;
	}
	for (const key of ["first", "second"] as const) {
		if (cell[key]?.star !== undefined && method.plan.setUp.marks?.[key === "first" ? 0 : 1]?.name === name)
			return `${key}.star`;
	}
	return cell["guide-star"] !== undefined
		? "guide-star"
		: cell.body !== undefined
			? "body"
			: cell.star !== undefined
				? "star"
				: "kind";
}
