/** What lies around the frames: the ground, setting up, dark frames, packing up, the walks. */
import { minuteDown, minuteUp } from "../../earth/zone.ts";
import { both, type Interval } from "../../sky/intervals.ts";
import { leadStarts, seriesLength } from "./leads.ts";
import type { EveningStep, GroundTask, LeftOut, PlacedSeries, SkyTask, Tasks } from "./tasks.ts";
import { Timeline } from "./timeline.ts";

/** Steps that found their time, and what did not. */
interface Placed {
	readonly steps: readonly EveningStep[];
	readonly leftOut: readonly LeftOut[];
}

/** Frames of the ground between the steps that are there. `within`: from being ready until packing up. */
export function groundSteps(
	series: readonly PlacedSeries[],
	steps: readonly EveningStep[],
	within: Interval,
	{ targets }: Tasks,
): Placed {
	const timeline = new Timeline(steps.filter(({ beside }) => !beside));
	const starts = leadStarts(steps);
	const placed: EveningStep[] = [];
	const leftOut: LeftOut[] = [];
	const runOf = ({ index, from, frames }: Omit<PlacedSeries, "fixed">): Interval => ({
		from: starts.get(index) ?? from,
		until: from + seriesLength(targets[index] as SkyTask, frames),
	});
	for (const { index, from, frames } of series) {
		const target = targets[index] as SkyTask;
		if (!target.foreground) continue;
		const sky = runOf({ index, from, frames });
		// A camera that runs by itself is not free for the ground.
		const runs = target.alone ? series.filter((one) => targets[one.index]?.camera === target.camera).map(runOf) : [];
		const free = runs.reduce((all, run) => all.with(run), timeline);
		// Focused elsewhere, the lens is focused again for what follows on its camera.
		const followedBy = (at: number) =>
			series.find((one) => one.from >= at && targets[one.index]?.camera === target.camera)?.index;
		const begin = groundBegin(target, target.foreground, free, within, sky, (at) => followedBy(at) !== undefined);
		if (begin === undefined) {
			leftOut.push({ kind: "foreground", of: index, frames: 0 });
			continue;
		}
		const { at, length, refocus } = target.foreground;
		const step = {
			kind: "foreground" as const,
			of: index,
			from: begin,
			until: begin + length,
			fixed: at !== undefined,
		};
		placed.push(step);
		timeline.take(step);
		const next = refocus > 0 ? followedBy(step.until) : undefined;
		if (next === undefined) continue;
		const focus = { kind: "focus" as const, of: next, from: step.until, until: step.until + refocus, fixed: false };
		placed.push(focus);
		timeline.take(focus);
	}
	return { steps: placed, leftOut };
}

/**
 * Right after the sky, where nothing has been moved; else right before it; else wherever there is room. `sky`: from what
 * leads to the series until its end; `isFollowed`: whether frames of the sky come after a moment, for which the lens is
 * focused again.
 */
function groundBegin(
	{ reAim }: SkyTask,
	{ at, length, windows: light, refocus }: GroundTask,
	timeline: Timeline,
	within: Interval,
	sky: Interval,
	isFollowed: (at: number) => boolean,
): number | undefined {
	if (at !== undefined) return at;
	const takes = length + refocus;
	const windows = both(
		light.map(({ from, until }) => ({ from, until: until + refocus })),
		[within],
	);
	const fits = (from: number): boolean => {
		const until = from + (isFollowed(from) ? takes : length);
		return (
			timeline.isFree({ from, until }) &&
			light.some((window) => window.from <= from && from + length <= window.until) &&
			within.from <= from &&
			until <= within.until
		);
	};
	return (
		[minuteUp(sky.until), minuteDown(sky.from - takes)].find(fits) ?? timeline.first(takes, windows, within.from, reAim)
	);
}

/** Setting up before all steps and packing up after them. Without a time of arriving one arrives for the first. */
export function bothEnds(
	series: readonly PlacedSeries[],
	steps: readonly EveningStep[],
	{ targets, onSite, arrives, leaves, ...takes }: Tasks,
): Placed {
	if (steps.length === 0) return { steps: [], leftOut: [] };
	const begins = Math.min(...steps.map(({ from }) => from));
	const ends = Math.max(...steps.map(({ until }) => until));
	const arrive = arrives ? onSite.from : begins - takes.setUp - takes.focus;
	const focus = arrive + takes.setUp;
	const darks: EveningStep[] = [];
	const leftOut: LeftOut[] = [];
	let dark = minuteUp(ends);
	for (const { index } of series) {
		const length = targets[index]?.darks ?? 0;
		if (length === 0) continue;
		if (leaves && dark + length > onSite.until) {
			leftOut.push({ kind: "darks", of: index, frames: 0 });
			continue;
		}
		darks.push({ kind: "darks", of: index, from: dark, until: dark + length, fixed: false });
		dark += length;
	}
	const packed = leaves ? Math.max(ends + takes.packUp, onSite.until) : Math.max(minuteUp(ends) + takes.packUp, dark);
	const free = { fixed: false };
	return {
		steps: [
			...(takes.walkIn > 0 ? [{ kind: "walk-in" as const, from: arrive - takes.walkIn, until: arrive, ...free }] : []),
			{ kind: "set-up", from: arrive, until: focus, ...free },
			{ kind: "focus", from: focus, until: focus + takes.focus, ...free },
			...darks,
			{ kind: "pack-up", from: packed - takes.packUp, until: packed, fixed: leaves },
			...(takes.walkOut > 0
				? [{ kind: "walk-out" as const, from: packed, until: packed + takes.walkOut, ...free }]
				: []),
		],
		leftOut,
	};
}
