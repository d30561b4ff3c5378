/** The reader's problems of one type, with their cells: what the rules of structure put into words. */

import type { Cell } from "../../plan/plan.ts";
import type { Problem, ProblemType } from "../../plan/problem.ts";
import type { Reckoning } from "../../reckon.ts";

export function* problemsOf<T extends ProblemType>(
	{ plan }: Reckoning,
	type: T,
): Iterable<{ readonly cell: Cell; readonly problem: Extract<Problem, { type: T }> }> {
	for (const cell of plan.cells) {
		for (const problem of cell.read.problems) {
			if (problem.type === type) yield { cell, problem: problem as Extract<Problem, { type: T }> };
		}
	}
}
