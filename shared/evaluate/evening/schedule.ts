/**
 * The evening in order: one pair of hands, fixed times kept, the alignment before the first tracked frame.
 *
 * What the plan gives a time keeps it, also where it clashes. The method is the first of the plan that can be placed
 * between the set-up and the first tracked frame that has a time. What has no time of its own begins as early as there is
 * room: targets in the plan's order, in the order in which they leave the view where so more frames fit, and up to
 * `MOST_TRIED` of them in whatever order most fit. What then finds no room is left out, the ground before the sky and dark
 * frames before both. A later end of the evening only adds room behind everything else, so that it never costs a step.
 */
import { type EpochMs, minuteDown, minuteUp } from "../../earth/zone.ts";
import { both, type Interval } from "../../sky/intervals.ts";
import { separation } from "../../sky/vector.ts";
import { clashesOf, inOrder } from "./in-order.ts";
import { type Placing, placedInAnyOrder } from "./orders.ts";
import type { AlignTask, Evening, EveningStep, GroundTask, LeftOut, SkyTask, StepKind, Tasks } from "./tasks.ts";
import { Timeline } from "./timeline.ts";
import { FAR_TURN } from "./usual-times.ts";

/** Milliseconds that a series takes. */
export const seriesLength = ({ frame, gap, frames }: SkyTask, taken = frames): number => taken * frame - gap;

/** What has to be done between one target and the next. */
export interface Lead {
	readonly steps: readonly (readonly [kind: StepKind, length: number])[];
	readonly length: number;
}

/** `before`: the target before it, undefined for the first and after moving; `aligned`: an alignment lies in between. */
export function leadTo(target: SkyTask, before: SkyTask | undefined, aligned: boolean, tasks: Tasks): Lead {
	const newLens = before !== undefined && before.lens !== target.lens;
	const newAim = newLens || before === undefined ? before !== undefined || aligned : before.aim !== target.aim;
	const tests = aligned || newLens || before === undefined || (newAim && isFar(target, before));
	const steps: (readonly [StepKind, number])[] = [];
	if (newLens) steps.push(["lens-change", tasks.lensChange]);
	if (newAim || (aligned && before !== undefined)) steps.push(["re-aim", target.reAim]);
	if (tests) steps.push(["test-frame", target.test]);
	return { steps, length: steps.reduce((sum, [, length]) => sum + length, 0) };
}

/** Whether it is so far to turn that a test frame is worth its time. */
const isFar = ({ toward }: SkyTask, before: SkyTask): boolean => separation(toward, before.toward) > FAR_TURN;

/** The longest lead that a target can have, whatever comes before it. */
function longestLead(target: SkyTask, tasks: Tasks): number {
	const others = tasks.targets.filter((one) => one !== target);
	return (
		(tasks.turnLimit !== undefined && target.tracked ? tasks.turnBack : 0) +
		(others.some(({ lens }) => lens !== target.lens) ? tasks.lensChange : 0) +
		(target.tracked || others.length > 0 ? target.reAim : 0) +
		target.test
	);
}

interface PlacedSky {
	readonly index: number;
	readonly from: EpochMs;
	readonly frames: number;
	readonly fixed: boolean;
}

/** The evening of some tasks. Never throws; what finds no room is told. */
export function scheduled(tasks: Tasks): Evening {
	const { targets, aligns, onSite } = tasks;
	const leftOut: LeftOut[] = [];
	const ready = onSite.from + tasks.setUp + tasks.focus;
	// Where the plan says when one leaves, packing up is done by then.
	const end = tasks.leaves ? onSite.until - tasks.packUp : onSite.until;
	const timed = targets.flatMap((target, index) => (target.at === undefined ? [] : [{ target, index, at: target.at }]));
	timed.sort((a, b) => a.at - b.at || a.index - b.index);
	const untimed = targets.flatMap((target, index) => (target.at === undefined ? [index] : []));
	// Where anything may yet come between them, each target keeps the time for its longest lead.
	const leads = new Map(
		timed.map(({ target, index }, i) => {
			const first = timed.find((one) => one.target.tracked)?.index === index;
			const before = target.moved ? undefined : timed[i - 1]?.target;
			return [
				index,
				untimed.length > 0 ? longestLead(target, tasks) : leadTo(target, before, first || target.moved, tasks).length,
			];
		}),
	);
	const timeline = new Timeline();
	const sky: PlacedSky[] = [];
	for (const { target, index, at } of timed) {
		sky.push({ index, from: at, frames: target.frames, fixed: true });
		timeline.take({ from: at - (leads.get(index) ?? 0), until: at + seriesLength(target) });
	}
	const steps: EveningStep[] = [];
	const place = (step: EveningStep): void => {
		steps.push(step);
		timeline.take(step);
	};

	// Alignments: before the first tracked frame, and anew wherever the tripod was moved.
	const needsAxis = targets.length === 0 || targets.some(({ tracked }) => tracked);
	const firstTracked = timed.find(({ target }) => target.tracked);
	const due = firstTracked ? firstTracked.at - (leads.get(firstTracked.index) ?? 0) : end;
	const alignment = needsAxis
		? (alignIn(aligns, timeline, { from: ready, until: due }) ?? atAnyRate(aligns, ready))
		: undefined;
	if (alignment) place(alignment);
	for (const { target, index, at } of timed) {
		if (!target.moved || !target.tracked || index === firstTracked?.index) continue;
		const before = Math.max(
			ready,
			...timed.filter((one) => one.at < at).map((one) => one.at + seriesLength(one.target)),
		);
		const until = at - (leads.get(index) ?? 0);
		place({ kind: "set-up", of: index, from: before, until: before + tasks.setUp, fixed: false });
		const again = alignIn(aligns, timeline, { from: before + tasks.setUp, until });
		if (again) place(again);
		else leftOut.push({ kind: "align", of: index, frames: 0 });
	}

	// What has no time of its own.
	const axisFrom = alignment?.until ?? ready;
	const placing: Placing = {
		timeline,
		of: (index) => {
			const target = targets[index] as SkyTask;
			return {
				length: seriesLength(target),
				lead: longestLead(target, tasks),
				windows: both(target.windows, [{ from: ready, until: end }]),
				notBefore: target.tracked ? axisFrom : ready,
				worth: target.frames,
			};
		},
	};
	const { starts } = placedInAnyOrder(untimed, placing);
	for (const [index, from] of starts) {
		const target = targets[index] as SkyTask;
		sky.push({ index, from, frames: target.frames, fixed: false });
		timeline.take({ from: from - longestLead(target, tasks), until: from + seriesLength(target) });
	}
	// What does not fit whole takes as many frames as do.
	for (const index of untimed) {
		if (starts.has(index)) continue;
		const target = targets[index] as SkyTask;
		const { windows, notBefore, lead } = placing.of(index);
		let most: { from: EpochMs; frames: number } | undefined;
		for (const { from, until } of timeline.free(windows, notBefore, lead)) {
			const frames = Math.min(target.frames, Math.floor((until - from + target.gap) / target.frame));
			if (frames > (most?.frames ?? 0)) most = { from, frames };
		}
		leftOut.push({ kind: "sky", of: index, frames: most?.frames ?? 0 });
		if (!most) continue;
		sky.push({ index, ...most, fixed: false });
		timeline.take({ from: most.from - lead, until: most.from + seriesLength(target, most.frames) });
	}

	// The steps between them, now that it is known what comes after what.
	sky.sort((a, b) => a.from - b.from || a.index - b.index);
	const aligned = steps.filter(({ kind }) => kind === "align");
	let ran = 0;
	for (const [i, { index, from, frames, fixed }] of sky.entries()) {
		const target = targets[index] as SkyTask;
		const last = sky[i - 1];
		const since = last?.from ?? Number.NEGATIVE_INFINITY;
		const isAligned = target.tracked && aligned.some((one) => one.until <= from && one.from >= since);
		if (isAligned) ran = 0;
		const before = target.moved || !last ? undefined : (targets[last.index] as SkyTask);
		const lead = [...leadTo(target, before, isAligned, tasks).steps];
		const length = seriesLength(target, frames);
		if (target.tracked && tasks.turnLimit !== undefined && ran > 0 && ran + length > tasks.turnLimit) {
			lead.unshift(["turn-back", tasks.turnBack]);
			ran = 0;
		}
		if (target.tracked) ran += length;
		let begin = from - lead.reduce((sum, [, one]) => sum + one, 0);
		for (const [kind, one] of lead) {
			steps.push({ kind, of: index, from: begin, until: begin + one, fixed: false });
			begin += one;
		}
		steps.push({
			kind: "sky",
			of: index,
			from,
			until: from + length,
			fixed,
			...(frames < target.frames && { frames }),
		});
	}

	const grounds = new Timeline(steps);
	for (const { index, from, frames } of sky) {
		const target = targets[index] as SkyTask;
		if (!target.foreground) continue;
		const ground = groundStep(target, target.foreground, index, { from, until: from + seriesLength(target, frames) });
		if (!ground) {
			leftOut.push({ kind: "foreground", of: index, frames: 0 });
			continue;
		}
		steps.push(ground);
		grounds.take(ground);
	}

	/** Right after the sky, where nothing has been moved; else right before it; else wherever there is room. */
	function groundStep(target: SkyTask, ground: GroundTask, of: number, series: Interval): EveningStep | undefined {
		const step = (from: EpochMs, fixed = false): EveningStep => ({
			kind: "foreground",
			of,
			from,
			until: from + ground.length,
			fixed,
		});
		if (ground.at !== undefined) return step(ground.at, true);
		const windows = both(ground.windows, [{ from: ready, until: end }]);
		const fits = (one: Interval): boolean =>
			grounds.isFree(one) && windows.some(({ from, until }) => from <= one.from && one.until <= until);
		const after = step(minuteUp(series.until));
		if (fits(after)) return after;
		const firstLead = steps
			.filter((one) => one.of === of && one.kind !== "align" && one.kind !== "set-up")
			.reduce((first, one) => Math.min(first, one.from), series.from);
		const before = step(minuteDown(firstLead - ground.length));
		if (fits(before)) return before;
		const anywhere = grounds.first(ground.length, windows, ready, target.reAim);
		return anywhere === undefined ? undefined : step(anywhere);
	}

	// Setting up, packing up, the walks. Without a time of arriving one arrives for the first step.
	const begins = steps.reduce((first, { from }) => Math.min(first, from), Number.POSITIVE_INFINITY);
	const ends = steps.reduce((last, { until }) => Math.max(last, until), Number.NEGATIVE_INFINITY);
	if (steps.length > 0) {
		const arrive = tasks.arrives ? onSite.from : begins - tasks.setUp - tasks.focus;
		const packing = tasks.leaves ? Math.max(ends, onSite.until - tasks.packUp) : minuteUp(ends);
		const leave = packing + tasks.packUp;
		if (tasks.walkIn > 0) steps.push({ kind: "walk-in", from: arrive - tasks.walkIn, until: arrive, fixed: false });
		steps.push({ kind: "set-up", from: arrive, until: arrive + tasks.setUp, fixed: false });
		steps.push({ kind: "focus", from: arrive + tasks.setUp, until: arrive + tasks.setUp + tasks.focus, fixed: false });
		let dark = minuteUp(ends);
		for (const { index } of sky) {
			const { darks } = targets[index] as SkyTask;
			if (darks === 0) continue;
			if (tasks.leaves && dark + darks > onSite.until) {
				leftOut.push({ kind: "darks", of: index, frames: 0 });
				continue;
			}
			steps.push({ kind: "darks", of: index, from: dark, until: dark + darks, fixed: false });
			dark += darks;
		}
		const gone = Math.max(leave, tasks.leaves ? onSite.until : dark);
		steps.push({ kind: "pack-up", from: gone - tasks.packUp, until: gone, fixed: tasks.leaves });
		if (tasks.walkOut > 0) steps.push({ kind: "walk-out", from: gone, until: gone + tasks.walkOut, fixed: false });
	}
	const ordered = inOrder(steps);
	const firstSky = ordered.find(({ kind, of }) => kind === "sky" && targets[of as number]?.tracked);
	return {
		steps: ordered,
		aligned: alignment?.of,
		clashes: clashesOf(ordered),
		leftOut,
		secondTry: alignment && firstSky && secondTry(aligns, alignment, leadStart(ordered, firstSky)),
	};
}

/** When what leads to a step begins. */
const leadStart = (steps: readonly EveningStep[], step: EveningStep): EpochMs =>
	steps
		.filter(({ of, kind }) => of === step.of && kind !== "align" && kind !== "foreground" && kind !== "darks")
		.reduce((first, { from }) => Math.min(first, from), step.from);

/** The first of the plan's methods that can be placed within some time. */
function alignIn(aligns: readonly AlignTask[], timeline: Timeline, within: Interval): EveningStep | undefined {
	for (const [of, { at, fixed, windows, length, works }] of aligns.entries()) {
		if (!works) continue;
		if (at !== undefined) {
			const from = beginOf(at, length);
			const step = { kind: "align" as const, of, from, until: from + length, fixed };
			if (step.from >= within.from && step.until <= within.until && timeline.isFree(step)) return step;
			continue;
		}
		// Its middle is in the windows.
		const around = windows.map(({ from, until }) => ({ from: from - length / 2, until: until + length / 2 }));
		const from = timeline.first(length, both(around, [within]), within.from);
		if (from !== undefined) return { kind: "align", of, from, until: from + length, fixed };
	}
	return undefined;
}

/** Half of what it takes lies before its moment; it begins on a whole minute. */
const beginOf = (at: EpochMs, length: number): EpochMs => minuteDown(at - length / 2);

/** The first that works at all, at its own time: where nothing fits, what clashes is shown. */
function atAnyRate(aligns: readonly AlignTask[], ready: EpochMs): EveningStep | undefined {
	const of = aligns.findIndex(({ works }) => works);
	const align = aligns[of];
	if (!align) return undefined;
	const from =
		align.at === undefined
			? Math.max(ready, minuteUp(align.windows[0]?.from ?? ready))
			: beginOf(align.at, align.length);
	return { kind: "align", of, from, until: from + align.length, fixed: align.fixed };
}

/** Whether one of the methods can be done once more between the alignment and a moment. */
function secondTry(aligns: readonly AlignTask[], { until }: Interval, by: EpochMs): Evening["secondTry"] {
	if (by < until) return undefined;
	const isPossible = aligns.some(
		({ works, windows, length }) =>
			works &&
			windows.some((window) => Math.max(window.from, until + length / 2) <= Math.min(window.until, by - length / 2)),
	);
	return { by, isPossible };
}
