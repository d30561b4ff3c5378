/**
 * The evening in order: one pair of hands, fixed times kept, the alignment before the first tracked frame.
 *
 * What the plan gives a time keeps it, also where it clashes. The method is the first of the plan that can be placed
 * between the set-up and the first tracked frame that has a time, as early as it can be, or later where so more frames are
 * kept that need no alignment. What has no time of its own begins as early as there is room: targets in the plan's order,
 * in the order in which they leave the view where so more frames fit, and up to `MOST_TRIED` of them in whatever order
 * most fit. What then finds no room is left out, the ground before the sky and dark
 * frames before both. A later end of the evening only adds room behind everything else, so that it never costs a step.
 */
import { type EpochMs, minuteUp } from "../../earth/zone.ts";
import { both, type Interval, outside } from "../../sky/intervals.ts";
import {
	alignIn,
	atAnyRate,
	correctionsAfter,
	fallbacksOf,
	freeCorrections,
	lastStart,
	secondTry,
} from "./aligning.ts";
import { bothEnds, groundSteps } from "./around.ts";
import { checksBetween } from "./checks.ts";
import { clashesOf, inOrder, takesHands } from "./in-order.ts";
import { handsLength, isLead, leadLength, leadStarts, longestLead, seriesLength, seriesSteps } from "./leads.ts";
import { type Placing, placedInAnyOrder } from "./orders.ts";
import type { AlignTask, Evening, EveningStep, LeftOut, PlacedSeries, SkyTask, Tasks } from "./tasks.ts";
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
	const { alignment, corrections, again, untimed, uncorrected } = withAlignment(tasks, timed, timeline, within);
	const alignments = [...(alignment ? [alignment] : []), ...corrections, ...again.steps];
	const aligned = alignments.filter(({ kind }) => kind === "align");
	// The steps between them, now that it is known what comes after what.
	const series = closedUp(
		[
			...timed.map(({ target, index, at }) => ({ index, from: at, frames: target.frames, fixed: true })),
			...untimed.series,
		].sort((a, b) => a.from - b.from || a.index - b.index),
		alignments,
		within.from,
		tasks,
	);
	const middle = [...alignments, ...seriesSteps(series, aligned, tasks)];
	const grounds = groundSteps(series, middle, within, tasks);
	const ends = bothEnds(series, [...middle, ...grounds.steps], tasks);
	const done = [...middle, ...grounds.steps, ...ends.steps];
	const steps = inOrder([...done, ...checksBetween(done, tasks.starsFrom)], (step) => lastStart(step, tasks));
	const first = steps.find(({ kind, of }) => kind === "sky" && targets[of as number]?.tracked);
	const due = first && latestLead(steps, first);
	return {
		steps,
		aligned: alignment?.of,
		corrected: corrections.findLast(({ until }) => first === undefined || until <= first.from)?.of,
		clashes: clashesOf(steps),
		leftOut: [...uncorrected, ...again.leftOut, ...untimed.leftOut, ...grounds.leftOut, ...ends.leftOut],
		fallbacks:
			alignment && due !== undefined
				? fallbacksOf(
						aligns,
						alignment,
						due,
						steps.filter((step) => step.from >= alignment.until && takesHands(step)).map(atLatest),
					)
				: [],
		secondTry: alignment && due !== undefined ? secondTry(aligns, alignment, due) : undefined,
	};
}

/**
 * Room was kept for the longest lead of each; where the one it has is shorter, what has no time of its own follows at once
 * on what is before it.
 */
function closedUp(
	series: readonly PlacedSeries[],
	alignments: readonly EveningStep[],
	ready: EpochMs,
	tasks: Tasks,
): readonly PlacedSeries[] {
	// A camera that runs by itself has hands aim at it in between.
	if (tasks.targets.some(({ alone }) => alone)) return series;
	const leads = leadStarts(
		seriesSteps(
			series,
			alignments.filter(({ kind }) => kind === "align"),
			tasks,
		),
	);
	let done = ready;
	return series.map((one): PlacedSeries => {
		const { index, from, frames, fixed } = one;
		const target = tasks.targets[index] as SkyTask;
		const before = alignments.filter((step) => step.from < from).map(({ until }) => until);
		const lead = from - (leads.get(index) ?? from);
		const window = target.windows.find((open) => open.from <= from && from < open.until);
		const earliest = minuteUp(Math.max(done, ...before) + lead);
		const begin = fixed || !window ? from : Math.min(from, Math.max(earliest, minuteUp(window.from)));
		done = begin + seriesLength(target, frames);
		return { ...one, from: begin };
	});
}

/** The last moment to begin with what leads to some frames: the one that the latest start of their alignment rests on. */
const latestLead = (steps: readonly EveningStep[], frames: EveningStep): EpochMs => {
	const lead = steps.find(({ kind, of }) => isLead(kind) && of === frames.of) ?? frames;
	return lead.latest ?? lead.from;
};

/** A step begun as late as it may be. */
const atLatest = ({ from, until, latest = from }: EveningStep): Interval => ({
	from: latest,
	until: latest + until - from,
});

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

/**
 * The alignment as early as it can be, before the first tracked frame that has a time; where no target is tracked, only when the plan says when.
 * Later where frames that need none would find no other time, and more are kept so.
 */
function withAlignment(
	tasks: Tasks,
	timed: readonly Timed[],
	timeline: Timeline,
	within: Interval,
): AfterAlignment & { readonly alignment: EveningStep | undefined } {
	const { targets, aligns } = tasks;
	const after = (alignment: EveningStep | undefined) => {
		const own = timeline.copy();
		if (alignment) own.take(alignment);
		return { alignment, ...withCorrections(tasks, timed, own, within, alignment) };
	};
	if (targets.length > 0 && !targets.some(({ tracked }) => tracked))
		return after(alignIn(aligns.map(onlyTimed), timeline, within));
	const first = timed.find(({ target }) => target.tracked);
	const due = first ? first.at - first.lead : within.until;
	const alignedFrom = (from: EpochMs) => alignIn(aligns, timeline, { from, until: due });
	let best = after(alignedFrom(within.from) ?? atAnyRate(aligns, within.from));
	if (best.untimed.leftOut.length === 0) return best;
	for (const end of untrackedEnds(tasks, timeline, within)) {
		const later = alignedFrom(end);
		if (!later || later.of !== best.alignment?.of) continue;
		const found = after(later);
		if (wholeOf(found.untimed, tasks) > wholeOf(best.untimed, tasks)) best = found;
	}
	return best;
}

/** Where no frame needs it, a method is worked only when the plan says when: to rehearse it, or for what is not planned. */
const onlyTimed = (align: AlignTask): AlignTask => (align.fixed ? align : { ...align, works: false });

/** Of more targets than this the first ones are tried before the alignment. */
const MOST_UNTRACKED = 3;

/** When some of the frames that need no alignment are done, in whatever order, if they come first. */
function untrackedEnds(tasks: Tasks, timeline: Timeline, within: Interval): ReadonlySet<EpochMs> {
	const ends = new Set<EpochMs>();
	const place = (rest: readonly SkyTask[], notBefore: EpochMs): void => {
		for (const one of rest) {
			const length = seriesLength(one);
			const from = timeline.first(length, both(one.windows, [within]), notBefore, longestLead(one, tasks));
			if (from === undefined) continue;
			ends.add(from + length);
			place(
				rest.filter((other) => other !== one),
				from + length,
			);
		}
	};
	const untracked = tasks.targets.filter(({ at, tracked, alone }) => at === undefined && !tracked && !alone);
	place(untracked.slice(0, MOST_UNTRACKED), within.from);
	return ends;
}

/** What comes after the alignment: corrections, and frames without a time. */
interface AfterAlignment {
	readonly corrections: readonly EveningStep[];
	readonly again: ReturnType<typeof alignmentsAgain>;
	readonly untimed: ReturnType<typeof untimedSeries>;
	/** Corrections that found no time, or would cost frames. */
	readonly uncorrected: readonly LeftOut[];
}

function withCorrections(
	tasks: Tasks,
	timed: readonly Timed[],
	timeline: Timeline,
	within: Interval,
	alignment: EveningStep | undefined,
): AfterAlignment {
	const { aligns } = tasks;
	const timedOnes = alignment ? correctionsAfter(aligns, alignment) : [];
	for (const one of timedOnes) timeline.take(one);
	const after = (corrections: readonly EveningStep[], uncorrected: readonly LeftOut[]): AfterAlignment => {
		const own = timeline.copy();
		for (const one of corrections) if (!timedOnes.includes(one)) own.take(one);
		const again = alignmentsAgain(tasks, timed, own, within);
		const ends = [...corrections.map(({ until }) => until).sort((a, b) => b - a), alignment?.until ?? within.from];
		return { corrections, again, untimed: untimedAfter(tasks, own, within, ends), uncorrected };
	};
	if (!alignment) return after([], []);
	const first = timed.find(({ target }) => target.tracked);
	const until = first ? first.at - first.lead : within.until;
	const free = freeCorrections(aligns, timeline, { from: alignment.until, until });
	const found = after([...timedOnes, ...free.steps], free.leftOut);
	if (free.steps.length === 0 || found.untimed.leftOut.length === 0) return found;
	// Frames come before a finer axis.
	const skipped = free.steps.map(({ of = 0 }): LeftOut => ({ kind: "correction", of, frames: 0 }));
	const without = after(timedOnes, [...free.leftOut, ...skipped]);
	return framesOf(without.untimed) > framesOf(found.untimed) ? without : found;
}

const framesOf = ({ series }: ReturnType<typeof untimedSeries>): number =>
	series.reduce((sum, { frames }) => sum + frames, 0);

/** Frames of the series that are taken whole. */
const wholeOf = ({ series }: ReturnType<typeof untimedSeries>, { targets }: Tasks): number =>
	series.reduce((sum, { index, frames }) => sum + (frames === targets[index]?.frames ? frames : 0), 0);

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

/** Tracked frames wait for a correction where that costs none. `aligned`: from when on they may be taken, the latest first. */
function untimedAfter(
	tasks: Tasks,
	timeline: Timeline,
	within: Interval,
	[latest = within.from, ...earlier]: readonly EpochMs[],
): ReturnType<typeof untimedSeries> {
	const found = untimedSeries(tasks, timeline.copy(), within, latest);
	return earlier.length === 0 || found.leftOut.length === 0 ? found : untimedAfter(tasks, timeline, within, earlier);
}

/** When a camera that runs by itself is aimed and takes a series. */
const runOf = (target: SkyTask, at: EpochMs, frames: number, tasks: Tasks): Interval & { readonly camera: string } => ({
	camera: target.camera,
	from: at - longestLead(target, tasks),
	until: at + seriesLength(target, frames),
});

/** What has no time of its own: whole if there is room, else as many frames as there is room for. */
export function untimedSeries(
	tasks: Tasks,
	timeline: Timeline,
	within: Interval,
	aligned: EpochMs,
): { readonly series: readonly PlacedSeries[]; readonly leftOut: readonly LeftOut[] } {
	const { targets } = tasks;
	const untimed = targets.flatMap(({ at }, index) => (at === undefined ? [index] : []));
	// What a camera has by itself is not in the timeline of the hands.
	const running = targets.flatMap((target) =>
		target.alone && target.at !== undefined ? [runOf(target, target.at, target.frames, tasks)] : [],
	);
	const roomOf = (target: SkyTask): readonly Interval[] => {
		const windows = both(target.windows, [within]);
		const runs = target.alone ? running.filter(({ camera }) => camera === target.camera) : [];
		if (runs.length === 0) return windows;
		// One aims when the series before it is done.
		const lead = longestLead(target, tasks);
		const taken = runs.map(({ from, until }) => ({ from, until: until + lead })).sort((a, b) => a.from - b.from);
		return windows.flatMap((window) => outside(taken, window));
	};
	const placing: Placing = {
		timeline,
		of: (index) => {
			const target = targets[index] as SkyTask;
			return {
				length: handsLength(target),
				lead: longestLead(target, tasks),
				runs: target.alone ? { camera: target.camera, length: seriesLength(target) } : undefined,
				windows: roomOf(target).map(({ from, until }) => ({
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
		if (target.alone) running.push(runOf(target, from, frames, tasks));
	};
	const starts = placedInAnyOrder(untimed, placing);
	for (const [index, from] of starts) place(index, from, (targets[index] as SkyTask).frames);
	for (const index of untimed) {
		if (starts.has(index)) continue;
		const { frame, gap, frames: planned } = targets[index] as SkyTask;
		const { notBefore, lead } = placing.of(index);
		const windows = roomOf(targets[index] as SkyTask);
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
