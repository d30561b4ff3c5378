/** The evening in order, as every face shows it: a row for each step. */
import { type EvaluatedMethod, tiltToSet } from "../cells/method/method.ts";
import type { Foreground } from "../cells/targets/keys.ts";
import { groundPanels, type TargetPanorama } from "../cells/targets/panorama.ts";
import { foregroundOf } from "../cells/targets/target.ts";
import type { EpochMs } from "../earth/zone.ts";
import type { Evaluation } from "../evaluate/evaluate.ts";
import { groundFraming } from "../evaluate/evening/framing.ts";
import { takesHands } from "../evaluate/evening/in-order.ts";
import { isLead } from "../evaluate/evening/leads.ts";
import { isWalkOutTaken } from "../evaluate/evening/of-plan.ts";
import type { EveningStep } from "../evaluate/evening/tasks.ts";
import { WALK_OUT } from "../evaluate/evening/usual-times.ts";
import { waitedFor } from "../evaluate/evening/waits.ts";
import { stepName, stepOwner } from "../evaluate/evening/words.ts";
import { degrees } from "../notation/angle.ts";
import { bearingToSet } from "../notation/bearing.ts";
import { exposureText, minutesText } from "../notation/duration.ts";
import { intervalAt } from "../sky/intervals.ts";
import { turn } from "../sky/vector.ts";
import { Lines } from "../text/lines.ts";
import { eitherText } from "../text/list.ts";
import { sentences, told } from "../text/sentence.ts";
import { notClearedText } from "./cautions.ts";
import { nightClock, nightSpan } from "./clock.ts";
import { groupRows, memberRows } from "./group-rows.ts";
import { methodsShown } from "./method-state.ts";
import { firstDirection, pointingOf, pointingText } from "./pointing.ts";
import { briefNumbers } from "./steps.ts";

const words = sentences("output.evening", {
	title: "The evening",
	frames: "{frames} × {exposure}",
	some: "{frames} of {planned} × {exposure}",
	focused: "{frames}, focused at {distance} m",
	latest: "begin no later than {time}",
	slips: "begin no later than {time}, frames then from {frames}",
	axis: "tilt {tilt}, pole at {bearing}",
	fallback: "fallback {place} ({method})",
	notDone: "not done by {time}: {fallbacks}",
	notDoneEnds: "not done by {end}: {ways}",
	onStar: "on a star",
	walkOut: "taken as {times} times the walk in",
	inTest: "look at the focus, on a star",
	begunBy: "{fallbacks}, begun by {time}",
	slipsToo: "{by}, frames then from {frames}",
	later: "{first}; {second}",
	same: "{pointing}. Same framing as the sky",
	trackerOff: "{panels}, tracker off",
	panels: "{first} to {last}",
	off: "{pointing}. Same framing as the sky; tracker off",
	turned: "{pointing}. Turn the tracker back to the framing of the first sky frame, then switch it off",
	toFirst: "first panel {pointing}",
	notAligned: "not aligned: stars will trail",
	done: "Wait, or pack up: nothing is left to do",
	driveOff: "then switch the drive off",
	planned: "for {name}, planned for {time}",
	plannedAlign: "for the alignment at {time}",
	plannedCorrection: "for the {name} at {time}",
	plannedGround: "for the ground frames of {name}, planned for {time}",
	dark: "until it is dark enough for {name}",
	moon: "until the Moon has set, for {name}",
	"in-view": "until {name} is in view",
	light: "until the light is right for the ground frames of {name}",
	window: "until the alignment can be done ({name})",
	best: "for the best minute of the alignment ({name})",
	camera: "{name} runs by itself until {time}",
	anew: "{pointing}: frame it as you will frame the sky, and mark the tripod's place",
});

/** A step as it is shown. */
export interface EveningRow {
	readonly kind: EveningStep["kind"];
	readonly at: EpochMs;
	readonly until: EpochMs;
	/** When it begins, and from when to when it takes, with the midnights that are between. */
	readonly from: string;
	readonly times: string;
	readonly duration: string;
	/** What is done. */
	readonly say: string;
	/** Its numbers: what the axis is set to, where to aim, frames, how late it may begin; empty where there is nothing to say. */
	readonly about: string;
	/** What of that is about the others of a group: nothing beside the list tells it. */
	readonly others?: string;
	/** Line of the plan it comes from, from 1; undefined where none does. */
	readonly line: number | undefined;
}

/** What the list is called. */
export const eveningTitle = (): string => told(words.title());

/** None without an evening. `alone`: without the steps of the methods beside it, whose numbers the rows then have. */
export function eveningRows(evaluation: Evaluation, alone = false): readonly EveningRow[] {
	const { group, ofGroup, night } = evaluation;
	if (group) return groupRows(evaluation, group, (one) => ownRows(one, numbersOf));
	const axis = alone ? numbersOf : axisText;
	return ofGroup && night ? memberRows(night, ofGroup, ownRows(evaluation, axis)) : ownRows(evaluation, axis);
}

/** Of the plan by itself, a row for each step. `axis`: what is told of an alignment. */
function ownRows(evaluation: Evaluation, axis = axisText): readonly EveningRow[] {
	const { evening, night, targets, methods, plan } = evaluation;
	if (!evening || !night) return [];
	const clock = (at: number): string => nightClock(night, at);
	const lines = new Lines(plan.text);
	const lineOf = ({ kind, of }: EveningStep): number | undefined => {
		const cell = of === undefined ? undefined : kind === "align" ? methods[of]?.cell : targets?.cell;
		if (!cell || of === undefined) return undefined;
		const place = cell.read.places.get(kind === "align" ? "" : `${of}.name`);
		return place && lines.at(cell.start + (place.key ?? place.value).from).line + 1;
	};
	const aimed = new Map<number | undefined, EveningStep>();
	for (const step of evening.steps) if (AIMED_FOR.has(step.kind) && !aimed.has(step.of)) aimed.set(step.of, step);
	const alignment = evening.steps.find(({ kind }) => kind === "align");
	const look = lookAtStar(evaluation);
	const done = allDone(evening.steps);
	const numbersAt = (step: EveningStep): string =>
		[
			isAligned(step, evaluation) ? "" : told(words.notAligned()),
			axis(step, evaluation),
			aimText(step, aimed, evaluation),
			framesText(step, evaluation),
			runsOut(step, evening.steps) ? told(words.driveOff()) : "",
			groundAimText(step, evaluation),
			step === look ? told((step.kind === "check" ? words.onStar : words.inTest)()) : "",
			latestText(step, evaluation, clock),
			step.kind === "walk-out" && isWalkOutTaken(night) ? told(words.walkOut({ times: WALK_OUT })) : "",
			step.kind === "wait" ? waitText(step, evaluation, clock) : "",
			step === alignment ? fallbackText(evaluation) : "",
		]
			.filter((text) => text !== "")
			.join(", ");
	return evening.steps.map((step) => ({
		kind: step.kind,
		at: step.from,
		until: step.until,
		from: clock(step.from),
		times: nightSpan(night, step),
		duration: durationOf(step),
		say: told(step.kind === "wait" && step.from >= done ? words.done() : stepName(step, evaluation)),
		about: [notCleared(step, evaluation), numbersAt(step)].filter((text) => text !== "").join(" "),
		line: lineOf(step),
	}));
}

/** Whether the drive, if it runs on behind some frames, comes to its end before it is wound back. */
function runsOut(step: EveningStep, steps: readonly EveningStep[]): boolean {
	if (step.kind !== "sky") return false;
	const next = steps.slice(steps.indexOf(step) + 1).find(({ kind }) => kind === "sky" || kind === "turn-back");
	return next?.kind === "turn-back" && next.from - step.until >= MINUTE_MS;
}

/** With these an evening ends, and in a wait nothing is done. */
const NO_WORK: ReadonlySet<EveningStep["kind"]> = new Set(["wait", "pack-up", "walk-out"]);

/** When all is done, what a camera does by itself too: a wait from then on is for the end alone. */
const allDone = (steps: readonly EveningStep[]): EpochMs =>
	Math.max(...steps.filter(({ kind }) => !NO_WORK.has(kind)).map(({ until }) => until));

/** What a wait is for; empty where it is for the end alone. */
function waitText(step: EveningStep, evaluation: Evaluation, clock: (at: EpochMs) => string): string {
	const waited = waitedFor(step, evaluation);
	if (!waited) return "";
	const { why, step: next } = waited;
	const name = stepOwner(next, evaluation) ?? told(stepName(next, evaluation));
	switch (why) {
		case "planned": {
			const { kind, from } = next;
			const align = next.of === evaluation.evening?.aligned ? words.plannedAlign : words.plannedCorrection;
			const planned = kind === "align" ? align : kind === "foreground" ? words.plannedGround : words.planned;
			return told(planned({ name, time: clock(from) }));
		}
		case "camera":
			return told(words.camera({ name, time: clock(next.until) }));
		default:
			return told(words[why]({ name }));
	}
}

/** That a laser may not be used, on the row that would use it. */
function notCleared(step: EveningStep, evaluation: Evaluation): string {
	const value = alignedBy(step, evaluation);
	return value ? notClearedText(value) : "";
}

/** Whether frames that are tracked have an alignment before them; what is not tracked needs none. */
function isAligned({ kind, of, from }: EveningStep, { evening, targets }: Evaluation): boolean {
	const target = kind === "sky" && of !== undefined ? targets?.value?.[of] : undefined;
	return !target?.tracked || (evening?.steps.some((step) => step.kind === "align" && step.until <= from) ?? false);
}

/** Where a focus of the daylight is first looked at on a star: in a check, or in a test frame where there is no time for one before. */
function lookAtStar({ evening, tasks }: Evaluation): EveningStep | undefined {
	const focus = evening?.steps.find(({ kind }) => kind === "focus");
	const from = tasks?.tasks.starsFrom;
	if (!focus || from === undefined || focus.until >= from) return undefined;
	return evening?.steps.find((step) => step.from >= from && (step.kind === "check" || step.kind === "test-frame"));
}

/** By the minutes at which it is told to begin and end, where it is that long. */
const durationOf = ({ from, until }: EveningStep): string =>
	minutesText(
		until - from < MINUTE_MS
			? (until - from) / MINUTE_MS
			: Math.round(until / MINUTE_MS) - Math.round(from / MINUTE_MS),
	);

const MINUTE_MS = 60_000;

/** What a step aligns by. */
const alignedBy = ({ kind, of }: EveningStep, { methods }: Evaluation) =>
	kind === "align" && of !== undefined ? methods[of]?.value : undefined;

/** The numbers of an alignment, where its steps are not beside: a group's sheet has to do with these. */
function numbersOf(step: EveningStep, evaluation: Evaluation): string {
	const value = alignedBy(step, evaluation);
	return (value && briefNumbers(value)) || axisText(step, evaluation);
}

/** What the axis is set to. */
function axisText(step: EveningStep, evaluation: Evaluation): string {
	const value = alignedBy(step, evaluation);
	if (!value) return "";
	// What corrects the axis does so by its stars: where the axis is set to has been told.
	if (value.method.corrects) return briefNumbers(value);
	const { field } = evaluation;
	const bearing = bearingToSet(value.setUp.bearing, field?.declination);
	return told(words.axis({ tilt: degrees(tiltToSet(value)), bearing }));
}

/** With these a target is framed: whichever of them comes first. */
const AIMED_FOR: ReadonlySet<EveningStep["kind"]> = new Set(["re-aim", "test-frame", "sky"]);

/** Where a target is aimed at: told where it first has to be, before its test frame. */
function aimText(
	step: EveningStep,
	aimed: ReadonlyMap<number | undefined, EveningStep>,
	evaluation: Evaluation,
): string {
	const { of } = step;
	const target = of === undefined ? undefined : evaluation.targets?.value?.[of];
	const isTold = aimed.get(of) === step;
	const frames = evaluation.evening?.steps.find((step) => step.kind === "sky" && step.of === of);
	const at = frames?.from ?? target?.series.from;
	if (!target || !isTold || at === undefined) return "";
	const pointing = pointingText(pointingOf(firstDirection(target, at), evaluation));
	return target.panorama ? told(words.toFirst({ pointing })) : pointing;
}

/** Where the camera looks for the ground, and how it comes to the framing of its sky; of a panorama the first of its panels and the last. */
function groundAimText({ kind, of }: EveningStep, evaluation: Evaluation): string {
	const { targets, evening, tasks } = evaluation;
	const target = kind === "foreground" && of !== undefined ? targets?.value?.[of] : undefined;
	if (!target || of === undefined) return "";
	if (target.panorama) {
		const panels = groundPanelsText(target.panorama, evaluation);
		return target.tracked ? told(words.trackerOff({ panels })) : panels;
	}
	const pointing = pointingText(pointingOf(firstDirection(target, target.series.from), evaluation));
	const framing = evening && tasks && groundFraming(evening, tasks, of);
	if (!framing) return pointing;
	return told(words[framing === "same" && target.tracked ? "off" : framing]({ pointing }));
}

/** Where the first and the last panel of a row of ground are aimed at. */
function groundPanelsText({ ground }: TargetPanorama, evaluation: Evaluation): string {
	const places = (ground()?.rows ?? []).flatMap(({ altitude, bearings }) =>
		bearings.map((bearing) => pointingText(pointingOf({ azimuth: turn(bearing), altitude }, evaluation))),
	);
	const [first = ""] = places;
	return places.length < 2 ? first : told(words.panels({ first, last: places.at(-1) ?? "" }));
}

function framesText({ kind, of, frames }: EveningStep, { targets }: Evaluation): string {
	const target = of === undefined ? undefined : targets?.value?.[of];
	if (!target) return "";
	const { entry, frameCount: planned, panorama } = target;
	const { exposure = 0, darks = 0 } = entry;
	const ground = foregroundOf(entry) ?? {};
	const said = { exposure: exposureText(exposure) };
	switch (kind) {
		case "darks":
			return told(words.frames({ frames: darks, ...said }));
		case "foreground":
			return withFocus(
				told(
					words.frames({
						frames: groundPanels(panorama) * (ground.frames ?? 1),
						exposure: exposureText(ground.exposure ?? exposure),
					}),
				),
				ground,
			);
		case "sky":
			return told(
				frames === undefined ? words.frames({ frames: planned, ...said }) : words.some({ frames, planned, ...said }),
			);
		default:
			return "";
	}
}

/** With the distance that the ground is focused at, where the plan says one. */
export function withFocus(frames: string, { "focused-at": distance }: Foreground): string {
	return distance === undefined ? frames : told(words.focused({ frames, distance }));
}

/** How late it may begin, where that is later than it does; and when the first frames after it then begin, if that is later too. */
function latestText(step: EveningStep, evaluation: Evaluation, clock: (at: EpochMs) => string): string {
	const latest = latestStart(step, evaluation);
	if (!latest) return "";
	const { at, frames } = latest;
	const time = clock(at);
	return told(frames === undefined ? words.latest({ time }) : words.slips({ time, frames: clock(frames) }));
}

/** The same as instants; undefined where it cannot begin later. */
export function latestStart(
	step: EveningStep,
	evaluation: Evaluation,
): { readonly at: EpochMs; readonly frames: EpochMs | undefined } | undefined {
	const steps = evaluation.evening?.steps ?? [];
	const { kind, from, until, latest } = step;
	if (latest === undefined || latest - from < MINUTE_MS || (kind !== "align" && kind !== "set-up")) return undefined;
	return { at: latest, frames: slippedTo(latest, until - from, steps.slice(steps.indexOf(step) + 1), evaluation) };
}

/** When the next frames begin if something that takes so long is begun late; undefined where they begin as planned. */
function slippedTo(
	begun: EpochMs,
	takes: number,
	steps: readonly EveningStep[],
	{ targets }: Evaluation,
): EpochMs | undefined {
	// What needs no alignment is done meanwhile.
	const needs = ({ kind, of = -1 }: EveningStep): boolean =>
		(kind === "sky" || isLead(kind)) && targets?.value?.[of]?.tracked === true;
	let free = begun + takes;
	for (const next of steps.filter((step) => takesHands(step) && (step.until > begun || needs(step)))) {
		const from = Math.max(next.from, free);
		if (next.kind === "sky") return from - next.from < MINUTE_MS ? undefined : from;
		free = from + next.until - next.from;
	}
	return undefined;
}

/** What is begun instead where the alignment is not done in time. */
export interface FallbackBy {
	/** Among the fallbacks, from 1. */
	readonly place: number;
	/** Its name. */
	readonly method: string;
	/** The latest it may begin, as a clock time of the night. */
	readonly time: string;
	/** When the window of the method before it ends, where that is earlier: from then on it cannot be done any more. */
	readonly end: string | undefined;
	/** When the first frames begin if it begins as late as that; undefined where they begin as planned. */
	readonly frames: string | undefined;
	readonly latest: EpochMs;
}

/** The fallbacks that the evening has a place for: each with its place among them, from 1, and the latest it may begin. */
export function fallbacksOf(evaluation: Evaluation): readonly {
	readonly place: number;
	readonly value: EvaluatedMethod;
	readonly latest: EpochMs;
	/** When the first frames then begin; undefined where they begin as planned. */
	readonly frames: EpochMs | undefined;
}[] {
	const shown = methodsShown(evaluation);
	const { fallbacks = [], steps = [] } = evaluation.evening ?? {};
	const first = steps.findIndex(({ kind }) => kind === "align");
	return fallbacks.flatMap(({ of, latest }) => {
		const place = shown.findIndex(({ cell }) => cell === evaluation.methods[of]?.cell);
		const value = shown[place]?.value;
		if (!value || place <= 0) return [];
		const frames = slippedTo(latest, value.takes * 1000, steps.slice(first + 1), evaluation);
		return [{ place, value, latest, frames }];
	});
}

/** The same in words. */
export function fallbacksBy(evaluation: Evaluation): readonly FallbackBy[] {
	const { night, aligned, evening } = evaluation;
	if (!night) return [];
	const { at, windows = [] } = aligned?.setUp ?? {};
	const step = evening?.steps.find(({ kind }) => kind === "align");
	const middle = at ?? (step && (step.from + step.until) / 2);
	const window = middle === undefined ? undefined : intervalAt(windows, middle)?.until;
	// What is begun in its window is done.
	const ends = window === undefined ? undefined : Math.max(window, step?.until ?? window);
	return fallbacksOf(evaluation).map(({ place, value, latest, frames }) => ({
		place,
		method: value.name,
		latest,
		time: nightClock(night, latest),
		end: ends !== undefined && ends < latest ? nightClock(night, ends) : undefined,
		frames: frames === undefined ? undefined : nightClock(night, frames),
	}));
}

/** What is begun instead, by time: those that may begin as late as each other together. */
function fallbackText(evaluation: Evaluation): string {
	const groups = new Map<string, readonly FallbackBy[]>();
	for (const one of fallbacksBy(evaluation).toSorted((a, b) => a.latest - b.latest))
		groups.set(one.time, [...(groups.get(one.time) ?? []), one]);
	const all = [...groups.values()].map((list) => ({
		...(list[0] as FallbackBy),
		fallbacks: eitherText(list.map(({ place, method }) => told(words.fallback({ place, method })))),
	}));
	const inTime = all.flatMap(({ end, frames, ...one }) =>
		end === undefined ? slipping(told(words.notDone(one)), frames) : [],
	);
	const begun = all.flatMap(({ end, frames, ...one }) =>
		end === undefined ? [] : slipping(told(words.begunBy(one)), frames),
	);
	const end = all.find((one) => one.end !== undefined)?.end;
	const after = end === undefined ? [] : [told(words.notDoneEnds({ end, ways: joined(begun) }))];
	return joined([...inTime, ...after]);
}

/** With when the frames then begin, where that is later than planned. */
const slipping = (by: string, frames: string | undefined): string =>
	frames === undefined ? by : told(words.slipsToo({ by, frames }));

const joined = ([first = "", ...others]: readonly string[]): string =>
	others.reduce((all, second) => told(words.later({ first: all, second })), first);
