/** What one waits for in an evening. */
import type { EvaluatedTarget } from "../../cells/targets/target.ts";
import type { EpochMs } from "../../earth/zone.ts";
import type { Interval } from "../../sky/intervals.ts";
import type { Evaluation } from "../evaluate.ts";
import type { AlignTask, EveningStep } from "./tasks.ts";

/**
 * `planned`: the plan says when. Else for what its step first has to have: `dark`, the Sun low enough; `moon`, the Moon
 * down; `in-view`, its target free of what hides it; `light`, that of the ground; `window`, the method's marks in their
 * place; `best`, the moment at which they serve best. `camera`: what a camera takes by itself.
 */
export type WaitsFor = "planned" | "dark" | "moon" | "in-view" | "light" | "window" | "best" | "camera";

/** What a wait is for, and of which step. */
export interface Waited {
	readonly why: WaitsFor;
	readonly step: EveningStep;
}

/** Moments that are told to the minute. */
const SAME_MS = 60_000;

const begins = (windows: readonly Interval[] | undefined, at: EpochMs): boolean =>
	windows?.some(({ from }) => Math.abs(from - at) <= SAME_MS) ?? false;

/** Looked at in passing: nothing waits for these. */
const isPassed = ({ kind }: EveningStep): boolean => kind === "wait" || kind === "check";

/** What a wait is for; undefined where it is for the end alone, and where what follows just keeps the plan's order. */
export function waitedFor(wait: EveningStep, evaluation: Evaluation): Waited | undefined {
	const steps = evaluation.evening?.steps ?? [];
	const later = steps.filter(({ from, kind }) => from >= wait.until && kind !== "darks");
	const first = later.findIndex((step) => !isPassed(step));
	for (const step of first < 0 ? [] : later.slice(first)) {
		if (step.kind === "pack-up") break;
		const why = step.kind === "wait" ? undefined : reasonOf(step, evaluation);
		if (why) return { why, step };
		// What follows is waited for by itself.
		if (step.kind === "wait") return undefined;
	}
	const running = steps.find((step) => step.kind === "sky" && step.beside && step.until > wait.from);
	return running && { why: "camera", step: running };
}

/** Why a step does not begin sooner, as far as it is for itself. */
function reasonOf(step: EveningStep, { tasks, targets }: Evaluation): WaitsFor | undefined {
	const { kind, of, from, until, fixed } = step;
	if (fixed) return "planned";
	if (!tasks || of === undefined) return undefined;
	const target = targets?.value?.[of];
	switch (kind) {
		case "align":
			return alignReason(tasks.tasks.aligns[of], (from + until) / 2);
		case "sky":
			return target && skyReason(target, from);
		case "foreground":
			return begins(tasks.tasks.targets[tasks.listed.indexOf(of)]?.foreground?.windows, from) ? "light" : undefined;
		default:
			return undefined;
	}
}

function alignReason(task: AlignTask | undefined, middle: EpochMs): WaitsFor | undefined {
	if (begins(task?.windows, middle)) return "window";
	return task?.at === undefined ? undefined : "best";
}

/** The last to come of what its frames have to have. */
function skyReason({ usable, inView, needsDark, darkness }: EvaluatedTarget, at: EpochMs): WaitsFor | undefined {
	if (!begins(usable, at)) return undefined;
	if (begins(inView, at) || !needsDark) return "in-view";
	return begins(darkness.dark, at) ? "dark" : "moon";
}
