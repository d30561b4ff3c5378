/**
 * The evening in order: one pair of hands, fixed times kept, the alignment before the first tracked frame.
 *
 * What the plan gives a time keeps it, also where it clashes. The method is the first of the plan that can be placed
 * between the set-up and the first tracked frame that has a time. What has no time of its own begins as early as there is
 * room: targets in the plan's order, in the order in which they leave the view where so more frames fit, and up to
 * `MOST_TRIED` of them in whatever order most fit. What then finds no room is left out, the ground before the sky and dark
 * frames before both. A later end of the evening only adds room behind everything else, so that it never costs a step.
 */
import type { EpochMs } from "../../earth/zone.ts";
import { both, type Interval } from "../../sky/intervals.ts";
import { alignIn, atAnyRate, fallbacksOf, secondTry, withinWindow } from "./aligning.ts";
import { bothEnds, groundSteps } from "./around.ts";
import { clashesOf, inOrder } from "./in-order.ts";
import { handsLength, leadLength, leadStarts, longestLead, seriesLength, seriesSteps } from "./leads.ts";
import { type Placing, placedInAnyOrder } from "./orders.ts";
import type { Evening, EveningStep, LeftOut, PlacedSeries, SkyTask, Tasks } from "./tasks.ts";
import { Timeline } from "./timeline.ts";

/** The evening of some tasks. Never throws; what finds no room is told. */
export function scheduled(tasks: Tasks): Evening {
	const { targets, aligns, onSite } = tasks;
	const within = {
		from: onSite.from + tasks.setUp + tasks.focus,
		// Where the plan says when one leaves, packing up is done by then.
		until: tasks.leaves ? onSite.until - tasks.packUp : onSite.until,
	};
	const timed = timedOf(tasks);
	const timeline = new Timeline(
		timed.map(({ target, at, lead }) => ({ from: at - lead, until: at + handsLength(target) })),
	);
	const alignment = alignmentOf(tasks, timed, timeline, within);
	if (alignment) timeline.take(alignment);
	const again = alignmentsAgain(tasks, timed, timeline, within);
	const untimed = untimedSeries(tasks, timeline, within, alignment?.until ?? within.from);
	const series = [
		...timed.map(({ target, index, at }) => ({ index, from: at, frames: target.frames, fixed: true })),
		...untimed.series,
	].sort((a, b) => a.from - b.from || a.index - b.index);

	// The steps between them, now that it is known what comes after what.
	const alignments = [...(alignment ? [alignment] : []), ...again.steps];
	const aligned = alignments.filter(({ kind }) => kind === "align");
	const middle = [...alignments, ...seriesSteps(series, aligned, tasks)];
	const grounds = groundSteps(series, middle, within, tasks);
	const ends = bothEnds(series, [...middle, ...grounds.steps], tasks);
	const steps = inOrder([...middle, ...grounds.steps, ...ends.steps]).map((step) => withinWindow(step, aligns));
	const first = steps.find(({ kind, of }) => kind === "sky" && targets[of as number]?.tracked);
	const due = first && (leadStarts(steps).get(first.of as number) ?? first.from);
	return {
		steps,
		aligned: alignment?.of,
		clashes: clashesOf(steps),
		leftOut: [...again.leftOut, ...untimed.leftOut, ...grounds.leftOut, ...ends.leftOut],
		fallbacks:
			alignment && due !== undefined
				? fallbacksOf(
						aligns,
						alignment,
						due,
						middle.filter((step) => step !== alignment),
					)
				: [],
		secondTry: alignment && due !== undefined ? secondTry(aligns, alignment, due) : undefined,
	};
}

/** A target with a time of its own, and how much before it is kept for what leads to it. */
interface Timed {
	readonly target: SkyTask;
	readonly index: number;
	readonly at: EpochMs;
	readonly lead: number;
}

/** By time. Where anything may yet come between them, each keeps the time for its longest lead. */
function timedOf(tasks: Tasks): readonly Timed[] {
	const { targets } = tasks;
	const timed = targets
		.flatMap((target, index) => (target.at === undefined ? [] : [{ target, index, at: target.at }]))
		.sort((a, b) => a.at - b.at || a.index - b.index);
	const isAll = timed.length === targets.length;
	const first = timed.find(({ target }) => target.tracked);
	const lasts = new Map<string, SkyTask>();
	return timed.map((one) => {
		const { target } = one;
		const before = target.moved ? undefined : lasts.get(target.camera);
		lasts.set(target.camera, target);
		const lead = isAll ? leadLength(target, before, one === first || target.moved, tasks) : longestLead(target, tasks);
		return { ...one, lead };
	});
}

/** Before the first tracked frame that has a time; undefined where no target is tracked. */
function alignmentOf(
	{ targets, aligns }: Tasks,
	timed: readonly Timed[],
	timeline: Timeline,
	{ from, until }: Interval,
): EveningStep | undefined {
	if (targets.length > 0 && !targets.some(({ tracked }) => tracked)) return undefined;
	const first = timed.find(({ target }) => target.tracked);
	const due = first ? first.at - first.lead : until;
	return alignIn(aligns, timeline, { from, until: due }) ?? atAnyRate(aligns, from);
}

/** Set-up and alignment anew wherever the tripod was moved; what is placed is taken in the timeline. */
function alignmentsAgain(
	{ aligns, setUp }: Tasks,
	timed: readonly Timed[],
	timeline: Timeline,
	within: Interval,
): { readonly steps: readonly EveningStep[]; readonly leftOut: readonly LeftOut[] } {
	const steps: EveningStep[] = [];
	const leftOut: LeftOut[] = [];
	const place = (step: EveningStep): void => {
		steps.push(step);
		timeline.take(step);
	};
	const first = timed.find(({ target }) => target.tracked);
	for (const one of timed) {
		const { target, index, at, lead } = one;
		if (!target.moved || !target.tracked || one === first) continue;
		const before = timed.filter((other) => other.at < at).map((other) => other.at + seriesLength(other.target));
		const from = Math.max(within.from, ...before);
		place({ kind: "set-up", of: index, from, until: from + setUp, fixed: false });
		const again = alignIn(aligns, timeline, { from: from + setUp, until: at - lead });
		if (again) place(again);
		else leftOut.push({ kind: "align", of: index, frames: 0 });
	}
	return { steps, leftOut };
}

/** What has no time of its own: whole if there is room, else as many frames as there is room for. */
export function untimedSeries(
	tasks: Tasks,
	timeline: Timeline,
	within: Interval,
	aligned: EpochMs,
): { readonly series: readonly PlacedSeries[]; readonly leftOut: readonly LeftOut[] } {
	const { targets } = tasks;
	const untimed = targets.flatMap(({ at }, index) => (at === undefined ? [index] : []));
	const placing: Placing = {
		timeline,
		of: (index) => {
			const target = targets[index] as SkyTask;
			return {
				length: handsLength(target),
				lead: longestLead(target, tasks),
				windows: both(target.windows, [within]).map(({ from, until }) => ({
					from,
					until: until - seriesLength(target) + handsLength(target),
				})),
				notBefore: target.tracked ? aligned : within.from,
				worth: target.frames,
			};
		},
	};
	const series: PlacedSeries[] = [];
	const leftOut: LeftOut[] = [];
	const place = (index: number, from: EpochMs, frames: number): void => {
		const target = targets[index] as SkyTask;
		series.push({ index, from, frames, fixed: false });
		timeline.take({ from: from - longestLead(target, tasks), until: from + handsLength(target, frames) });
	};
	const starts = placedInAnyOrder(untimed, placing);
	for (const [index, from] of starts) place(index, from, (targets[index] as SkyTask).frames);
	for (const index of untimed) {
		if (starts.has(index)) continue;
		const { frame, gap, frames: planned } = targets[index] as SkyTask;
		const { notBefore, lead } = placing.of(index);
		const windows = both((targets[index] as SkyTask).windows, [within]);
		const rooms = timeline.free(windows, notBefore, lead).map(({ from, until }) => ({
			from,
			frames: Math.min(planned, Math.floor((until - from + gap) / frame)),
		}));
		const most = rooms.reduce((best, room) => (room.frames > best.frames ? room : best), { from: 0, frames: 0 });
		leftOut.push({ kind: "sky", of: index, frames: most.frames });
		if (most.frames > 0) place(index, most.from, most.frames);
	}
	return { series, leftOut };
}
