/** What has to be done before the frames of a target. */
import type { EpochMs } from "../../earth/zone.ts";
import { separation } from "../../sky/vector.ts";
import type { EveningStep, PlacedSeries, SkyTask, StepKind, Tasks } from "./tasks.ts";
import { FAR_TURN } from "./usual-times.ts";

/** Milliseconds that a series takes. */
export const seriesLength = ({ frame, gap, frames }: SkyTask, taken = frames): number => taken * frame - gap;

/** Milliseconds of it for which hands are taken. */
export const handsLength = (target: SkyTask, taken = target.frames): number =>
	target.alone ? 0 : seriesLength(target, taken);

type Lead = readonly (readonly [kind: StepKind, length: number])[];

/** `before`: the target before it, undefined for the first and after moving; `aligned`: an alignment lies in between. */
function leadTo(target: SkyTask, before: SkyTask | undefined, aligned: boolean, tasks: Tasks): Lead {
	const newLens = before !== undefined && before.lens !== target.lens;
	const newAim = newLens || before === undefined ? before !== undefined || aligned : before.aim !== target.aim;
	const tests = aligned || newLens || before === undefined || (newAim && isFar(target, before));
	const lead: (readonly [StepKind, number])[] = [];
	if (newLens) lead.push(["lens-change", tasks.lensChange]);
	if (newAim || (aligned && before !== undefined)) lead.push(["re-aim", target.reAim]);
	if (tests) lead.push(["test-frame", target.test]);
	return lead;
}

/** Whether it is so far to turn that a test frame is worth its time. */
const isFar = ({ toward }: SkyTask, before: SkyTask): boolean => separation(toward, before.toward) > FAR_TURN;

const lengthOf = (lead: Lead): number => lead.reduce((sum, [, length]) => sum + length, 0);

/** How long the lead of a target takes after another. */
export const leadLength = (target: SkyTask, before: SkyTask | undefined, aligned: boolean, tasks: Tasks): number =>
	lengthOf(leadTo(target, before, aligned, tasks));

/** The longest lead that a target can have, whatever comes before it. */
export function longestLead(target: SkyTask, { targets, turnLimit, turnBack, lensChange }: Tasks): number {
	const onCamera = targets.filter(({ camera }) => camera === target.camera);
	return (
		(turnLimit !== undefined && target.tracked ? turnBack : 0) +
		(onCamera.some(({ lens }) => lens !== target.lens) ? lensChange : 0) +
		(target.tracked || onCamera.length > 1 ? target.reAim : 0) +
		target.test
	);
}

/** The steps of the series, by time, each with what leads to it. `aligned`: the alignments of the evening. */
export function seriesSteps(
	series: readonly PlacedSeries[],
	aligned: readonly EveningStep[],
	tasks: Tasks,
): readonly EveningStep[] {
	const { targets, turnLimit } = tasks;
	// How long the drive has run since it was wound back.
	let ran = 0;
	const lasts = new Map<string, PlacedSeries>();
	return series.flatMap((one) => {
		const { index, from, frames, fixed } = one;
		const target = targets[index] as SkyTask;
		const last = lasts.get(target.camera);
		lasts.set(target.camera, one);
		const since = last?.from ?? Number.NEGATIVE_INFINITY;
		const isAligned = target.tracked && aligned.some((step) => step.until <= from && step.from >= since);
		if (isAligned) ran = 0;
		const before = target.moved || !last ? undefined : targets[last.index];
		const length = seriesLength(target, frames);
		const turnsBack = target.tracked && turnLimit !== undefined && ran > 0 && ran + length > turnLimit;
		if (turnsBack) ran = 0;
		if (target.tracked) ran += length;
		const own = leadTo(target, before, isAligned, tasks);
		// Wound back, the camera looks where it looked when the drive was started: the target is aimed at again.
		const aims = own.some(([kind]) => kind === "re-aim");
		const lead: Lead = turnsBack
			? [["turn-back", tasks.turnBack], ...(aims ? [] : [["re-aim", target.reAim] as const]), ...own]
			: own;
		return [
			...stepsUpTo(from, lead, index),
			{
				kind: "sky" as const,
				of: index,
				from,
				until: from + length,
				fixed,
				...(frames < target.frames && { frames }),
				...(target.alone && { beside: true as const }),
			},
		];
	});
}

function stepsUpTo(until: EpochMs, lead: Lead, of: number): readonly EveningStep[] {
	let begin = until - lengthOf(lead);
	return lead.map(([kind, length]) => {
		const from = begin;
		begin += length;
		return { kind, of, from, until: begin, fixed: false };
	});
}

const LEADS: ReadonlySet<StepKind> = new Set(["turn-back", "lens-change", "re-aim", "test-frame"]);

/** Whether a step leads to the frames of its target. */
export const isLead = (kind: StepKind): boolean => LEADS.has(kind);

/** When what leads to the frames of each target begins. */
export function leadStarts(steps: readonly EveningStep[]): ReadonlyMap<number, EpochMs> {
	const starts = new Map<number, EpochMs>();
	for (const { kind, of, from } of steps)
		if (of !== undefined && isLead(kind)) starts.set(of, Math.min(from, starts.get(of) ?? from));
	return starts;
}
