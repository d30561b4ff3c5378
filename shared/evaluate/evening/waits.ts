/** What one waits for in an evening. */
import type { EvaluatedTarget } from "../../cells/targets/target.ts";
import type { EpochMs } from "../../earth/zone.ts";
import type { Interval } from "../../sky/intervals.ts";
import type { Evaluation } from "../evaluate.ts";
import { lastRun } from "./in-order.ts";
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

/** What a wait is for; undefined where it is for the end alone, and where what follows just keeps the plan's order. */
export function waitedFor(wait: EveningStep, evaluation: Evaluation): Waited | undefined {
	const steps = evaluation.evening?.steps ?? [];
	let hasBegun = false;
	for (const step of steps) {
		const { kind } = step;
		// Nothing waits for a look at the camera, nor for what lies beside.
		if (step.from < wait.until || kind === "darks" || kind === "check") continue;
		if (kind === "pack-up") break;
		// What follows another wait is what that is for.
		if (kind === "wait" && hasBegun) return undefined;
		const why = reasonOf(step, evaluation);
		if (why) return { why, step };
		hasBegun ||= kind !== "wait";
	}
	const running = lastRun(steps);
	return running && running.until > wait.from ? { why: "camera", step: running } : undefined;
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
