/** Cells that would plan a method of a kind tonight, with what they are expected to leave of axis error. */
import { radius95Of } from "../alignment/budget.ts";
import type { Proposal } from "../methods/method.ts";
import { ALL_METHODS, type AnyMethod, type MethodContent, type MethodKind } from "../methods/methods.ts";
import { type Tonight, withReady } from "../methods/tonight.ts";
import type { Evaluation } from "./evaluate.ts";
import { costOf } from "./suggestions.ts";

export interface Proposed extends Pick<Proposal<MethodContent>, "keys" | "by"> {
	readonly method: AnyMethod;
	/** Radius about the pole that holds the axis 19 times in 20, degrees. */
	readonly radius95: number;
	/** Whether it is done too late for the first tracked frame, or begun before one is set up. */
	readonly costs: boolean;
}

/**
 * The night as a method finds it: what only corrects the axis comes after the alignment that sets it, where the evening
 * has one.
 */
export function nightFor(
	{ tonight, evening, aligned }: Pick<Evaluation, "tonight" | "evening" | "aligned">,
	{ corrects }: AnyMethod,
): Tonight | undefined {
	if (!tonight || !corrects || aligned?.method.corrects) return tonight;
	const done = evening?.steps.find(({ kind, of }) => kind === "align" && of === evening.aligned)?.until;
	return done === undefined ? tonight : withReady(tonight, done);
}

/** What a method proposes for tonight and what would work, in its own order. `own`: what a cell of it has already. */
export function* proposedBy(method: AnyMethod, tonight: Tonight, own?: MethodContent): Generator<Proposed> {
	const { kind, setUp, propose } = method;
	for (const { content, keys, by } of propose?.(tonight, own) ?? []) {
		const found = setUp({ ...content, kind }, tonight);
		if (found.obstacles.length > 0 || found.windows.length === 0) continue;
		const costs = found.at !== undefined && costOf(tonight, method, { ...content, kind }, found.at) !== undefined;
		yield { method, keys, by, radius95: radius95Of(found), costs };
	}
}

/**
 * The best that each kind of method proposes tonight, the finest first; kinds that the plan has already come after those
 * that it has not, since a fallback of the same kind fails with it, and what only corrects another's axis after what sets it. `besides`: a cell that does not count as planned.
 */
export function fallbacks(evaluation: Evaluation, besides: unknown): readonly Proposed[] {
	const { plan, tonight } = evaluation;
	if (!tonight) return [];
	const planned = new Set<MethodKind | undefined>(
		plan.cells.flatMap((cell) => (cell !== besides && cell.read.kind === "method" ? [cell.read.content?.kind] : [])),
	);
	const all = ALL_METHODS.flatMap((method) => {
		const own = nightFor(evaluation, method) ?? tonight;
		return tonight.remember(`proposed ${method.kind} ${own.ready} ${own.due}`, () =>
			[...proposedBy(method, own)].slice(0, 1),
		);
	});
	const rank = ({ method, radius95 }: Proposed): number =>
		(planned.has(method.kind) ? 1000 : 0) + (method.corrects ? 2000 : 0) + radius95;
	return [...all].sort((a, b) => rank(a) - rank(b));
}
