/** Every clock time of a plan's night with its place. */

import type { Evaluation } from "../../evaluate/evaluate.ts";
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
				if (clock !== undefined) yield { cell, path: `${index}.${key}`, clock };
			}
		}
	}
}
