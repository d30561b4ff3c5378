/** Which method aligns, and when. */
import { type EpochMs, minuteDown, minuteUp } from "../../earth/zone.ts";
import { both, type Interval, intervalAt } from "../../sky/intervals.ts";
import type { AlignTask, Evening, EveningStep, Fallback, LeftOut, Tasks } from "./tasks.ts";
import { Timeline } from "./timeline.ts";

/** The first of the plan's methods that can be placed within some time. */
export function alignIn(aligns: readonly AlignTask[], timeline: Timeline, within: Interval): EveningStep | undefined {
	for (const [of, { at, fixed, windows, length, works }] of aligns.entries()) {
		if (!works) continue;
		if (at !== undefined) {
			const from = beginOf(at, length);
			const step = { kind: "align" as const, of, from, until: from + length, fixed };
			if (step.from >= within.from && step.until <= within.until && timeline.isFree(step)) return step;
			continue;
		}
		const from = timeline.first(length, both(aroundMiddles(windows, length), [within]), within.from);
		if (from !== undefined) return { kind: "align", of, from, until: from + length, fixed };
	}
	return undefined;
}

/** When something of a length may be under way whose middle is in the windows. */
export const aroundMiddles = (windows: readonly Interval[], length: number): readonly Interval[] =>
	windows.map(({ from, until }) => ({ from: from - length / 2, until: until + length / 2 }));

/** The last moment at which a placed step may begin by itself: while its middle, or all of it, is still in its window. */
export function lastStart({ kind, of, from, until }: EveningStep, { aligns, targets }: Tasks): EpochMs | undefined {
	const within = (windows: readonly Interval[] | undefined): EpochMs | undefined => {
		const window = windows?.find((one) => one.from <= from && until <= one.until);
		return window && minuteDown(window.until - (until - from));
	};
	if (of === undefined) return undefined;
	if (kind === "sky") return within(targets[of]?.windows);
	if (kind === "foreground") return within(targets[of]?.foreground?.windows);
	const align = kind === "align" ? aligns[of] : undefined;
	if (!align) return undefined;
	// Begun on a whole minute, its middle may lie just before its moment.
	const middle = align.at ?? (from + until) / 2;
	const window = intervalAt(align.windows, middle);
	return window ? beginOf(window.until, align.length) : from;
}

const lasting = (from: EpochMs, length: number): Interval => ({ from, until: from + length });

/** Half of what it takes lies before its moment; it begins on a whole minute. */
export const beginOf = (at: EpochMs, length: number): EpochMs => minuteDown(at - length / 2);

/** The first that works at all, at its own time or the last of its windows: where nothing fits, what clashes is shown. */
export function atAnyRate(aligns: readonly AlignTask[], ready: EpochMs): EveningStep | undefined {
	const of = aligns.findIndex(({ works }) => works);
	const align = aligns[of];
	if (!align) return undefined;
	const around = aroundMiddles(align.windows, align.length);
	const open = around.find(({ until }) => ready + align.length <= until);
	const from =
		align.at !== undefined
			? beginOf(align.at, align.length)
			: open
				? Math.max(ready, minuteUp(open.from))
				: minuteDown((around.at(-1)?.until ?? ready + align.length) - align.length);
	return { kind: "align", of, from, until: from + align.length, fixed: align.fixed };
}

/** What corrects the axis at a time of its own behind an alignment; what would come before it has nothing to correct. */
export const correctionsAfter = (aligns: readonly AlignTask[], { until }: Interval): readonly EveningStep[] =>
	aligns.flatMap(({ at, length, corrects }, of) => {
		if (!corrects || at === undefined || beginOf(at, length) < until) return [];
		return { kind: "align" as const, of, ...lasting(beginOf(at, length), length), fixed: true };
	});

/** Those without a time of their own, each as early as there is room within some time; what finds none is told. */
export function freeCorrections(
	aligns: readonly AlignTask[],
	timeline: Timeline,
	within: Interval,
): { readonly steps: readonly EveningStep[]; readonly leftOut: readonly LeftOut[] } {
	const own = timeline.copy();
	const steps: EveningStep[] = [];
	const leftOut: LeftOut[] = [];
	for (const [of, { at, length, corrects, windows }] of aligns.entries()) {
		if (!corrects || at !== undefined) continue;
		const from = own.first(length, both(aroundMiddles(windows, length), [within]), within.from);
		if (from === undefined) leftOut.push({ kind: "correction", of, frames: 0 });
		else {
			const step = { kind: "align" as const, of, ...lasting(from, length), fixed: false };
			steps.push(step);
			own.take(step);
		}
	}
	return { steps, leftOut };
}

/**
 * How late each other method may begin after an alignment that is not done, so that all is ready by a moment: in the plan's
 * order, those that can. `taken`: what lies in between, as late as it may be.
 */
export function fallbacksOf(
	aligns: readonly AlignTask[],
	{ of: first, until }: EveningStep,
	by: EpochMs,
	taken: readonly Interval[],
): readonly Fallback[] {
	const timeline = new Timeline(taken);
	const within = [{ from: until, until: by }];
	return aligns.flatMap(({ length, works, windows }, of) => {
		if (of === first || !works) return [];
		// A clock time in the plan is for when it comes first: as a fallback it is worked when it is needed.
		const latest = both(aroundMiddles(windows, length), within)
			.map((window) => ({ window, start: timeline.last(length, window.until) }))
			.findLast(({ window, start }) => start >= window.from)?.start;
		return latest === undefined ? [] : [{ of, latest }];
	});
}

/** Whether one of the methods can be done once more between the alignment and a moment. */
export function secondTry(aligns: readonly AlignTask[], { until }: Interval, by: EpochMs): Evening["secondTry"] {
	if (by < until) return undefined;
	const isPossible = aligns.some(
		({ works, windows, length }) =>
			works &&
			windows.some((window) => Math.max(window.from, until + length / 2) <= Math.min(window.until, by - length / 2)),
	);
	return { by, isPossible };
}
