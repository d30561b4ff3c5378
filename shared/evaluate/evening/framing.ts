/** Whether frames of the ground can have the framing of their sky: derived from what lies between them. */
import type { PlanTasks } from "./of-plan.ts";
import type { Evening, EveningStep, StepKind } from "./tasks.ts";

/** `turned`: once the drive is wound back to where the series began. */
export type GroundFraming = "same" | "turned" | "anew";

/** What moves the tripod or the axis, and with it a camera on the tracker. */
const OF_TRACKER: ReadonlySet<StepKind> = new Set(["set-up", "align"]);
/** What moves the camera of its target. */
const OF_CAMERA: ReadonlySet<StepKind> = new Set(["re-aim", "lens-change", "turn-back", "sky"]);

/** Of the target at a place of the plan's list; undefined where the evening has not both. */
export function groundFraming(
	{ steps }: Evening,
	{ tasks, listed }: PlanTasks,
	index: number,
): GroundFraming | undefined {
	const stepOf = (wanted: StepKind): EveningStep | undefined =>
		steps.find(({ kind, of }) => kind === wanted && of === index);
	const targetAt = (place: number | undefined) =>
		place === undefined ? undefined : tasks.targets[listed.indexOf(place)];
	const [sky, ground, own] = [stepOf("sky"), stepOf("foreground"), targetAt(index)];
	if (!sky || !ground || !own) return undefined;
	const [from, until] = [Math.min(sky.until, ground.until), Math.max(sky.from, ground.from)];
	const moves = ({ kind, of }: EveningStep): boolean =>
		OF_TRACKER.has(kind) ? own.tracked : OF_CAMERA.has(kind) && targetAt(of)?.camera === own.camera;
	if (steps.some((step) => step !== sky && step.from < until && step.until > from && moves(step))) return "anew";
	return own.tracked && ground.from >= sky.until ? "turned" : "same";
}
