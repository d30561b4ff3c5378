/**
 * Alignment lost: a knob slips, someone kicks the tripod. For each half hour of the tracked frames, which of the plan's
 * methods can align again from then on, with what numbers, how late it may begin, and how many frames are then left.
 */
import { WANTED_CHANCE } from "../../alignment/longest-exposure.ts";
import { chancesAbove } from "../../alignment/trail-chance.ts";
import { type EvaluatedMethod, evaluateMethod } from "../../cells/method/method.ts";
import type { EvaluatedNight } from "../../cells/night/night.ts";
import { compositionOf } from "../../cells/targets/composition.ts";
import { longestOfAll } from "../../cells/targets/limits.ts";
import { type EvaluatedTarget, isOfArcs } from "../../cells/targets/target.ts";
import { type EpochMs, minuteDown, wallClock } from "../../earth/zone.ts";
import { KeptBy } from "../../memory/memory.ts";
import type { MethodContent } from "../../methods/methods.ts";
import { type Tonight, withDue } from "../../methods/tonight.ts";
import { isErrorAngle } from "../../notation/angle.ts";
import { both, type Interval, intervalAt } from "../../sky/intervals.ts";
import type { Evaluation } from "../evaluate.ts";
import { aroundMiddles } from "./aligning.ts";
import { bothEnds, groundSteps } from "./around.ts";
import { longestLead, seriesSteps } from "./leads.ts";
import { type PlanTasks, setsAxis } from "./of-plan.ts";
import { untimedSeries } from "./schedule.ts";
import type { Evening, EveningStep, LeftOut, PlacedSeries, SkyTask, Tasks } from "./tasks.ts";
import { Timeline } from "./timeline.ts";

/** How a method aligns again. */
export interface WayBack {
	/** Place among the plan's methods. */
	readonly of: number;
	/** The method at its new time, and with another mark where the plan's has passed. */
	readonly value: EvaluatedMethod;
	readonly from: EpochMs;
	readonly until: EpochMs;
	/** The last minute to begin it with this mark, one frame being left. */
	readonly latest: EpochMs;
	/** Frames that are left after it, tracked ones alone. Those of the ground and dark frames give way to them. */
	readonly frames: number;
	/** What there is no time for any more. */
	readonly without: readonly LeftOut["kind"][];
	/** Targets among them that begin after the moment at which they come to their composition. */
	readonly passed: readonly Passed[];
	/** Targets among them whose frames this axis is too far off for. */
	readonly trailing: readonly Trailing[];
}

/** A target that is composed for a moment, and how much later its frames begin, milliseconds. */
export interface Passed {
	readonly target: EvaluatedTarget;
	readonly by: number;
}

/** A target whose stars are not sure to hold with the axis of a method. */
export interface Trailing {
	readonly target: EvaluatedTarget;
	/** That a frame keeps within its trail limit at the planned exposure. */
	readonly chance: number;
	/** Seconds, the longest exposure that does; 0 where none does. */
	readonly longest: number;
}

/** An alignment that is lost at some moment. */
export interface AlignmentLost {
	readonly at: EpochMs;
	/** Tracked frames that were still to come. */
	readonly planned: number;
	/** In the plan's order: each method that can align again and leaves a frame. */
	readonly ways: readonly WayBack[];
}

/** What a method may be worked with later in the night. */
interface Mark {
	readonly content: MethodContent;
	/** Where its middle may be. */
	readonly windows: readonly Interval[];
	/** Where it is best. */
	readonly best: EpochMs | undefined;
}

/** So many times what holds is not worth a word. */
const JUST_OVER = 1.02;
const HALF_HOUR_MS = 1_800_000;
/** At most so many rows: a series may last for days. */
const MOST_ROWS = 48;
/** How much longer one waits for a better mark. Common practice, no source. */
const WORTH_WAITING_MS = 900_000;

/** None without tracked frames. By time: when the first tracked frame begins, and at each half hour of the site's clock until the last one ends. */
export const alignmentsLost = (evaluation: Evaluation): readonly AlignmentLost[] =>
	evaluation.alignmentLost ?? lost.of(evaluation, lostOf);

const lost = new KeptBy<Evaluation, readonly AlignmentLost[]>();

function lostOf(evaluation: Evaluation): readonly AlignmentLost[] {
	const { tasks, evening, night, tonight, methods, targets, tracker } = evaluation;
	if (!tasks || !evening || !night || !tonight) return [];
	const values = methods.map(({ value }) => value);
	const hold = tracker?.rate === "half" ? [] : (targets?.value ?? []);
	return alignmentLost(tasks, evening, values, night, tonight).map((lost) => ({
		...lost,
		ways: lost.ways.map(({ series, ...way }) => ({
			...way,
			passed: series.flatMap(({ of, from }) => passedBy(targets?.value?.[of], from)),
			trailing: series.flatMap(({ of }) => trailingOf(hold[of], way.value)),
		})),
	}));
}

/** A way back, with the targets of the plan's list that it leaves frames of and when these begin. */
interface Way extends Omit<WayBack, "passed" | "trailing"> {
	readonly series: readonly { readonly of: number; readonly from: EpochMs }[];
}

/** Of a series that was under way the rest is framed as it would be by then. */
function passedBy(target: EvaluatedTarget | undefined, from: EpochMs): readonly Passed[] {
	if (!target?.body || !target.timed || !compositionOf(target.entry)) return [];
	return from < target.series.until ? [] : [{ target, by: from - target.series.from }];
}

/** With the axis of another method than the plan's: the frames where they are, as they would then trail. */
function trailingOf(target: EvaluatedTarget | undefined, { budget }: EvaluatedMethod): readonly Trailing[] {
	if (!target?.trails || !target.forSky || isOfArcs(target.entry)) return [];
	if (!target.limits?.worst.frame.showsSky) return [];
	if (!isErrorAngle(budget.radius95)) return [{ target, chance: 0, longest: 0 }];
	const trails = target.trails();
	const chances = chancesAbove(trails, budget, target.trailLimit);
	const chance = Math.min(...chances);
	if (chance >= WANTED_CHANCE) return [];
	const most = longestOfAll(trails, budget, target.trailLimit, chances);
	return (target.entry.exposure ?? 0) > most * JUST_OVER ? [{ target, chance, longest: most }] : [];
}

function alignmentLost(
	{ tasks, listed }: PlanTasks,
	{ steps, leftOut }: Evening,
	methods: readonly (EvaluatedMethod | undefined)[],
	night: EvaluatedNight,
	tonight: Tonight,
): readonly (Omit<AlignmentLost, "ways"> & { readonly ways: readonly Way[] })[] {
	const anytime = withDue(tonight, undefined);
	const sets = setsAxis(methods);
	const marks = methods.map((one) => (one && sets(one) ? marksOf(one, anytime) : []));
	return momentsOf(
		steps.filter(({ kind, of }) => kind === "sky" && tasks.targets[listed.indexOf(of as number)]?.tracked),
		night.zone,
	).flatMap((at) => {
		const rest = restOf(tasks, listed, steps, leftOut, at);
		if (rest.frames === 0) return [];
		const ways = marks.flatMap((list, of) => wayBack(of, list, rest, at, night, anytime) ?? []);
		return [{ at, planned: rest.frames, ways }];
	});
}

function momentsOf(series: readonly Interval[], zone: string): readonly EpochMs[] {
	const first = Math.min(...series.map(({ from }) => from));
	const last = Math.max(...series.map(({ until }) => until));
	const moments: EpochMs[] = [];
	for (let at = first; at < last && moments.length < MOST_ROWS; at = nextHalfHour(at, zone)) moments.push(at);
	return moments;
}

/** The site's clock shows its half hours. */
function nextHalfHour(at: EpochMs, zone: string): EpochMs {
	const since = (wallClock(zone, at).secondsOfDay * 1000) % HALF_HOUR_MS;
	return Math.floor(at / 1000) * 1000 + HALF_HOUR_MS - since;
}

/** What was still to be done. */
interface Rest {
	readonly tasks: Tasks;
	readonly listed: readonly number[];
	/** What is kept at its time: what needs no alignment. */
	readonly taken: readonly EveningStep[];
	/** Series that are taken, or need no alignment. */
	readonly done: readonly PlacedSeries[];
	/** What the evening has no time for anyway. */
	readonly leftOut: readonly LeftOut[];
	readonly within: Interval;
	readonly frames: number;
}

/** Tracked frames that had not been taken, none before its time; where the tripod is moved it is aligned again anyway. */
function restOf(
	tasks: Tasks,
	listed: readonly number[],
	steps: readonly EveningStep[],
	leftOut: readonly LeftOut[],
	at: EpochMs,
): Rest {
	const moved = steps.find(({ kind, of, until }) => kind === "set-up" && of !== undefined && until > at);
	const until = Math.min(
		moved?.from ?? Number.POSITIVE_INFINITY,
		tasks.onSite.until - (tasks.leaves ? tasks.packUp : 0),
	);
	const within = { from: at, until };
	const skyOf = (index: number) => steps.find(({ kind, of }) => kind === "sky" && of === listed[index]);
	const isTaken = (index: number): boolean =>
		steps.some((one) => one.kind === "foreground" && one.of === listed[index] && one.until <= at);
	const targets = tasks.targets.map((target, index): SkyTask => {
		const step = skyOf(index);
		// What has a time of its own is not placed.
		if (!step || !target.tracked || step.from >= until) return { ...target, at: target.at ?? at };
		const { frame, gap } = target;
		const taken = Math.max(0, Math.floor((at - step.from + gap) / frame));
		const frames = (step.frames ?? target.frames) - taken;
		if (frames <= 0) return { ...target, at };
		const notBefore = { from: Math.max(at, step.from), until: Number.POSITIVE_INFINITY };
		const foreground = isTaken(index) ? undefined : target.foreground;
		return { ...target, at: undefined, frames, windows: both(target.windows, [notBefore]), foreground };
	});
	const isLost = (of: number): boolean => {
		const index = listed.indexOf(of);
		return tasks.targets[index]?.tracked === true && targets[index]?.at === undefined;
	};
	const taken = steps.filter(
		({ kind, of, beside, until: ends }) =>
			of !== undefined &&
			!beside &&
			kind !== "align" &&
			kind !== "darks" &&
			(kind === "foreground" ? ends > at && !isLost(of) : !tasks.targets[listed.indexOf(of)]?.tracked),
	);
	const done = targets.flatMap((target, index): readonly PlacedSeries[] => {
		const step = target.at === undefined ? undefined : skyOf(index);
		return step ? [{ index, from: step.from, frames: step.frames ?? target.frames, fixed: step.fixed }] : [];
	});
	const frames = targets.reduce((sum, target) => sum + (target.at === undefined ? target.frames : 0), 0);
	return { tasks: { ...tasks, targets }, listed, taken, done, leftOut, within, frames };
}

/** What the cell names, then what is found in its place, the best first. */
function marksOf({ content, method }: EvaluatedMethod, tonight: Tonight): readonly Mark[] {
	const { at: planned, ...anytime } = content as MethodContent;
	const { search } = method;
	return tonight.remember(`marks-at-any-time ${JSON.stringify(anytime)} ${planned}`, () => {
		const found = search?.find(anytime as MethodContent, tonight) ?? [];
		const others = found.map(({ keys, at }) => ({ content: { ...anytime, ...keys } as MethodContent, best: at }));
		return [{ content: anytime as MethodContent, best: undefined }, ...others].map((one, i): Mark => {
			const { windows, at } = method.setUp(one.content, tonight);
			// The plan's own mark passes its place when the plan says, or when it is nearest; another kind may be used at once.
			const own = planned === undefined ? at : tonight.instant(planned);
			return { ...one, windows, best: i === 0 && search?.momentary ? own : one.best };
		});
	});
}

/** With the mark that is worth waiting for. */
function wayBack(
	of: number,
	marks: readonly Mark[],
	rest: Rest,
	at: EpochMs,
	{ zone }: EvaluatedNight,
	tonight: Tonight,
): Way | undefined {
	const { tasks, taken, within } = rest;
	const length = tasks.aligns[of]?.length ?? 0;
	const timeline = new Timeline(taken);
	const starts = marks.flatMap((mark) => {
		const windows = both(aroundMiddles(mark.windows, length), [within]);
		const atBest = mark.best === undefined ? at : minuteDown(mark.best - length / 2);
		const from = timeline.first(length, windows, Math.max(at, atBest)) ?? timeline.first(length, windows, at);
		return from === undefined ? [] : [{ mark, from }];
	});
	const earliest = Math.min(...starts.map(({ from }) => from));
	const start = starts.find(({ from }) => from <= earliest + WORTH_WAITING_MS);
	if (!start) return undefined;
	const { mark, from } = start;
	const until = from + length;
	const { frames, series, without } = after(rest, { kind: "align", of, from, until, fixed: false });
	const middle = minuteDown(from + length / 2);
	const value = evaluateMethod({ ...mark.content, at: wallClock(zone, middle).secondsOfDay } as MethodContent, tonight);
	if (frames === 0 || !value?.works || value.setUp.at !== middle) return undefined;
	const window = intervalAt(mark.windows, middle);
	const latest = Math.min(lastStart(rest, length), window ? minuteDown(window.until - length / 2) : from);
	return { of, value, from, until, latest: Math.max(from, latest), frames, series, without };
}

/** What is left when the alignment is done anew. */
function after(
	{ tasks, listed, taken, done, leftOut, within }: Rest,
	alignment: EveningStep,
): Pick<Way, "frames" | "series" | "without"> {
	const { series } = untimedSeries(tasks, new Timeline([...taken, alignment]), within, alignment.until);
	const byTime = [...series].sort((a, b) => a.from - b.from);
	const middle = [alignment, ...taken, ...seriesSteps(byTime, [alignment], tasks)];
	const grounds = groundSteps(byTime, middle, within, tasks);
	const ends = bothEnds([...done, ...byTime], [...middle, ...grounds.steps], tasks);
	const lost = [...grounds.leftOut, ...ends.leftOut].filter(
		({ kind, of }) => !leftOut.some((one) => one.kind === kind && one.of === listed[of]),
	);
	return {
		frames: series.reduce((sum, { frames }) => sum + frames, 0),
		series: byTime.map(({ index, from }) => ({ of: listed[index] as number, from })),
		without: [...new Set(lost.map(({ kind }) => kind))],
	};
}

/** The last minute to begin an alignment with a frame after it. */
function lastStart({ tasks, taken, within }: Rest, length: number): EpochMs {
	const timeline = new Timeline(taken);
	return Math.max(
		...tasks.targets
			.filter(({ at }) => at === undefined)
			.map((target) => {
				const lead = longestLead(target, tasks);
				const exposure = target.frame - target.gap;
				const room = timeline
					.free(both(target.windows, [within]), within.from, lead)
					.findLast(({ from, until }) => until - from >= exposure);
				return room ? timeline.last(length, room.until - exposure - lead) : Number.NEGATIVE_INFINITY;
			}),
	);
}
