/** The reader's problems of one type, with their cells: what the rules of structure put into words. */

import type { Evaluation } from "../../evaluate/evaluate.ts";
import type { Cell } from "../../plan/plan.ts";
import type { Problem, ProblemType } from "../../plan/problem.ts";

export function* problemsOf<T extends ProblemType>(
	{ plan }: Evaluation,
	type: T,
): Iterable<{ readonly cell: Cell; readonly problem: Extract<Problem, { type: T }> }> {
	for (const cell of plan.cells) {
		for (const problem of cell.read.problems) {
			if (problem.type === type) yield { cell, problem: problem as Extract<Problem, { type: T }> };
		}
	}
}
