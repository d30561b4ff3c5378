/** Whether a change of a plan's text brings an error or a warning that was not there. */
import type { Evaluation } from "../evaluate/evaluate.ts";
import { check } from "./check.ts";
import type { Finding } from "./finding.ts";

/** Errors and warnings of a plan. */
export const problemsOf = (evaluation: Evaluation): readonly Finding[] =>
	check(evaluation).filter(({ severity }) => severity !== "info");

/** The first problem that is one more of its kind in its cell than there were before. */
export function newProblem(now: readonly Finding[], before: readonly Finding[]): Finding | undefined {
	const kind = ({ code, cell }: Finding): string => `${code} ${cell?.index}`;
	const known = new Map<string, number>();
	for (const one of before) known.set(kind(one), (known.get(kind(one)) ?? 0) + 1);
	return now.find((one) => {
		const left = known.get(kind(one)) ?? 0;
		known.set(kind(one), left - 1);
		return left <= 0;
	});
}
