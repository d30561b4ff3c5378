/** Steps by time, with what lies between and against each other. */
import type { EpochMs } from "../../earth/zone.ts";
import type { Clash, EveningStep } from "./tasks.ts";

/** A gap shorter than this is no wait, milliseconds. */
const SHORTEST_WAIT = 60_000;

/** Dark frames lie beside what hands do, and what a camera does by itself. */
const isBeside = ({ kind, beside }: EveningStep): boolean => kind === "darks" || beside === true;

/** Whether one has to be there for it: a wait gives way, and so does a look at the camera. */
export const takesHands = (step: EveningStep): boolean =>
	!isBeside(step) && step.kind !== "wait" && step.kind !== "check";

/**
 * By their beginning, waits put between, and each told how late it may begin: for what is fixed after it, and for what is
 * placed after it as long as that can be done. `lastStart`: of a placed step by itself, where its time ends.
 */
export function inOrder(
	steps: readonly EveningStep[],
	lastStart: (step: EveningStep) => EpochMs | undefined = () => undefined,
): readonly EveningStep[] {
	const sorted = [...steps].sort((a, b) => a.from - b.from || a.until - b.until);
	const filled: EveningStep[] = [];
	let done: number | undefined;
	for (const step of sorted) {
		if (step.beside) {
			filled.push(step);
			continue;
		}
		if (done !== undefined && step.from - done >= SHORTEST_WAIT) {
			// While a camera runs by itself one waits for that, even if nothing is left for hands.
			const runs = step.kind === "pack-up" ? lastRun(sorted)?.until : undefined;
			let from = done;
			if (runs !== undefined && runs - done >= SHORTEST_WAIT && step.from - runs >= SHORTEST_WAIT) {
				filled.push({ kind: "wait", from, until: runs, fixed: false });
				from = runs;
			}
			filled.push({ kind: "wait", from, until: step.from, fixed: false });
		}
		filled.push(step);
		done = Math.max(done ?? step.until, step.until);
	}
	let due: number | undefined;
	return filled
		.reverse()
		.map((step): EveningStep => {
			// A look at the camera can be left out.
			if ((isBeside(step) && !step.fixed) || step.kind === "wait" || step.kind === "check") return step;
			if (step.fixed) {
				due = step.from;
				return step;
			}
			const own = lastStart(step);
			if (due === undefined && own === undefined) return step;
			const chained = (due ?? Number.POSITIVE_INFINITY) - (step.until - step.from);
			due = Math.min(chained, Math.max(step.from, own ?? Number.POSITIVE_INFINITY));
			return { ...step, latest: due };
		})
		.reverse();
}

/** What a camera takes by itself until all others are done. */
export const lastRun = (steps: readonly EveningStep[]): EveningStep | undefined =>
	steps.reduce<EveningStep | undefined>(
		(last, step) => (step.beside && step.until > (last?.until ?? 0) ? step : last),
		undefined,
	);

/** Neighbouring steps that one pair of hands cannot do. */
export function clashesOf(steps: readonly EveningStep[]): readonly Clash[] {
	const clashes: Clash[] = [];
	let before: EveningStep | undefined;
	for (const step of steps) {
		if (isBeside(step) || step.kind === "wait") continue;
		if (before && step.from < before.until) clashes.push({ before, after: step, short: before.until - step.from });
		if (!before || step.until > before.until) before = step;
	}
	return clashes;
}
