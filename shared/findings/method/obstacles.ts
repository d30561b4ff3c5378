/** The obstacles of the plan's methods, with their cells: what the rules of this folder put into words. */
import type { Obstacle } from "../../alignment/method.ts";
import { clockOf, type EpochMs } from "../../earth/zone.ts";
import type { Cell } from "../../plan/plan.ts";
import type { MethodReckoning } from "../../reckon/method.ts";
import type { Reckoning } from "../../reckon.ts";

export interface Met<T extends Obstacle["type"]> {
	readonly cell: Cell;
	readonly method: MethodReckoning;
	readonly obstacle: Extract<Obstacle, { type: T }>;
	/** Site's clock of an instant. */
	readonly clock: (at: EpochMs) => string;
	/** Site's clock of the method's time, for messages. */
	readonly when: string;
}

export function* met<T extends Obstacle["type"]>(
	{ methods, night }: Reckoning,
	...types: readonly T[]
): Iterable<Met<T>> {
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
export function markKey(method: MethodReckoning, name: string): string {
	const { cell } = method;
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
