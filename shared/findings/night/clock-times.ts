/** Every clock time of a plan's night with its place. */

import { type EvaluatedNight, timesShown } from "../../cells/night/night.ts";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import { clockText } from "../../notation/clock.ts";
import { type Cell, cellsOf } from "../../plan/plan.ts";

export function* clockTimes({
	plan,
}: Evaluation): Iterable<{ readonly cell: Cell; readonly path: string; readonly clock: number }> {
	for (const cell of cellsOf(plan, "night").slice(0, 1)) {
		for (const key of ["arrive", "leave"] as const) {
			const clock = cell.read.content?.[key];
			if (clock !== undefined) yield { cell, path: key, clock };
		}
	}
	for (const cell of cellsOf(plan, "method")) {
		const method = cell.read.content;
		if (method?.at !== undefined) yield { cell, path: "at", clock: method.at };
		for (const key of ["first", "second"] as const) {
			const clock = method?.[key]?.at;
			if (clock !== undefined) yield { cell, path: `${key}.at`, clock };
		}
	}
	for (const cell of cellsOf(plan, "targets").slice(0, 1)) {
		for (const [index, target] of (cell.read.content ?? []).entries()) {
			for (const key of ["at", "from", "until"] as const) {
				const clock = target[key];
				if (typeof clock === "number") yield { cell, path: `${index}.${key}`, clock };
			}
		}
	}
}

/** What clocks show when they are changed, and what then, around a clock time that is skipped or comes twice. */
export function clockChange(night: EvaluatedNight, clock: number): { readonly before: string; readonly after: string } {
	const times = timesShown(night, clock);
	const inDay = (seconds: number): number => (seconds + 86_400) % 86_400;
	let first = Math.floor(clock / 60) * 60;
	let next = inDay(first + 60);
	while (timesShown(night, inDay(first - 60)) === times) first = inDay(first - 60);
	while (timesShown(night, next) === times) next = inDay(next + 60);
	const [from, to] = times === 0 ? [first, next] : [next, first];
	return { before: clockText(from), after: clockText(to) };
}
