/** What of a plan an evening is made of. */

import type { EvaluatedLens } from "../../cells/lens/lens.ts";
import type { EvaluatedMethod } from "../../cells/method/method.ts";
import { type EvaluatedNight, writtenStay } from "../../cells/night/night.ts";
import type { Foreground, TargetEntry } from "../../cells/targets/keys.ts";
import { groundSeconds } from "../../cells/targets/panorama.ts";
import { foregroundOf, type PlacedTarget } from "../../cells/targets/target.ts";
import type { TrackerContent } from "../../cells/tracker/keys.ts";
import { type EpochMs, minuteUp } from "../../earth/zone.ts";
import { toVector } from "../../sky/horizontal.ts";
import { both, type Interval } from "../../sky/intervals.ts";
import { scheduled } from "./schedule.ts";
import type { AlignTask, Evening, GroundTask, SkyTask, Tasks } from "./tasks.ts";
import * as usual from "./usual-times.ts";

const SECOND_MS = 1000;
const MINUTE_MS = 60_000;

/** Milliseconds of what the plan says, in seconds, or of what is usual, in minutes. */
const minutes = (typed: number | undefined, otherwise: number): number =>
	typed === undefined ? otherwise * MINUTE_MS : typed * SECOND_MS;

const focusTakes = ({ content: { prepare = {} } }: EvaluatedNight): number => minutes(prepare.focus, usual.FOCUS);

/** When one is set up and focused; what the plan gives no time takes so many times as long as usual. */
export function readyAt({ onSite, content: { prepare = {} } }: EvaluatedNight, pace = 1): EpochMs {
	return onSite.from + minutes(prepare["set-up"], pace * usual.SET_UP) + minutes(prepare.focus, pace * usual.FOCUS);
}

/** Whether the walk out is not the plan's but follows from its walk in. */
export const isWalkOutTaken = ({ content: { prepare = {} } }: EvaluatedNight): boolean =>
	prepare["walk-out"] === undefined && minutes(prepare["walk-in"], 0) > 0;

/** Milliseconds of the walks in and out. */
export function walksOf({ content: { prepare = {} } }: EvaluatedNight): { readonly in: number; readonly out: number } {
	const walkIn = minutes(prepare["walk-in"], 0);
	return { in: walkIn, out: minutes(prepare["walk-out"], (usual.WALK_OUT * walkIn) / MINUTE_MS) };
}

/** Milliseconds for aiming at a target. */
const reAim = (lens: EvaluatedLens | undefined): number =>
	((lens?.camera.focalLength ?? 0) > usual.LONG_LENS ? usual.RE_AIM_LONG : usual.RE_AIM) * MINUTE_MS;

const testFrame = ({ exposure = 0 }: TargetEntry): number =>
	minuteUp(exposure * SECOND_MS + usual.TEST_FRAME * MINUTE_MS);

/** What is done between an alignment and the first frame of a target. */
export const leadAfterAlignment = (entry: TargetEntry, lens: EvaluatedLens | undefined): number =>
	reAim(lens) + testFrame(entry);

/** Below this the Sun leaves stars enough to focus on: the end of nautical twilight, degrees. */
const STARS_SHOW = 12;

/** Between that and the first frames of the sky there is to be time for a look at them and for what leads to the frames. */
const LOOK_MS = 20 * MINUTE_MS;

/** Whether frames of the sky may come too early for that: then the first bright stars have to do. */
const inDusk = ({ forSky, needsDark, entry, series }: PlacedTarget, { sunBelow, sky }: EvaluatedNight): boolean =>
	forSky &&
	needsDark &&
	((entry["sun-below"] ?? sunBelow) < STARS_SHOW || series.from < (sky.sun["nautical-dusk"] ?? series.from) + LOOK_MS);

/** What of a plan has to be done. */
export interface PlanTasks {
	readonly tasks: Tasks;
	/** For each target of the tasks its place in the plan's list: what cannot be read is passed over. */
	readonly listed: readonly number[];
}

/** The tasks of a plan's evening. */
export function tasksOf(
	night: EvaluatedNight,
	tracker: TrackerContent | undefined,
	methods: readonly (EvaluatedMethod | undefined)[],
	targets: readonly (PlacedTarget | undefined)[],
): PlanTasks {
	const { prepare = {} } = night.content;
	const walks = walksOf(night);
	const turnLimit = tracker?.["turn-limit"];
	const known = targets.flatMap((target, index) => (target && target.seconds > 0 ? [{ target, index }] : []));
	const sets = setsAxis(methods);
	const tasks: Tasks = {
		onSite: night.onSite,
		...writtenStay(night),
		walkIn: walks.in,
		setUp: minutes(prepare["set-up"], usual.SET_UP),
		focus: focusTakes(night),
		starsFrom: night.sky.sun[known.some(({ target }) => inDusk(target, night)) ? "civil-dusk" : "nautical-dusk"],
		packUp: minutes(prepare["pack-up"], usual.PACK_UP),
		walkOut: walks.out,
		lensChange: usual.LENS_CHANGE * MINUTE_MS,
		turnBack: usual.TURN_BACK * MINUTE_MS,
		turnLimit: turnLimit === undefined ? undefined : turnLimit * SECOND_MS,
		aligns: methods.map((one) => alignTask(one, sets)),
		targets: withCameras(known.map(({ target }) => skyTask(target, night))),
	};
	return { tasks, listed: known.map(({ index }) => index) };
}

/** The evening of a plan's tasks; undefined where there is nothing to do. */
export function eveningOf({ tasks, listed }: PlanTasks): Evening | undefined {
	const evening = scheduled(tasks);
	if (evening.steps.length === 0) return undefined;
	// Places among the targets that can be taken are told as places in the list.
	const inList = <T extends { readonly kind: string; readonly of?: number }>(one: T): T =>
		one.of === undefined || one.kind === "align" ? one : { ...one, of: listed[one.of] };
	return {
		...evening,
		steps: evening.steps.map(inList),
		clashes: evening.clashes.map(({ before, after, short }) => ({
			before: inList(before),
			after: inList(after),
			short,
		})),
		leftOut: evening.leftOut.map((one) => (one.kind === "correction" ? one : { ...one, of: listed[one.of] ?? one.of })),
	};
}

/** Whether a method sets the axis: what only corrects another's is the way to align where there is no other. */
export function setsAxis(methods: readonly (EvaluatedMethod | undefined)[]): (one: EvaluatedMethod) => boolean {
	const alone = !methods.some((one) => one?.works && !one.method.corrects);
	return ({ method }) => alone || !method.corrects;
}

function alignTask(one: EvaluatedMethod | undefined, sets: (one: EvaluatedMethod) => boolean): AlignTask {
	if (!one) return { at: undefined, fixed: false, windows: [], length: 0, works: false, corrects: false };
	const { setUp, takes, works, content, begins } = one;
	const length = takes * SECOND_MS;
	const middle = begins === undefined ? setUp.at : begins + length / 2;
	const shift = setUp.free && middle !== undefined && setUp.at !== undefined ? middle - setUp.at : 0;
	return {
		at: setUp.free ? undefined : middle,
		fixed: content.at !== undefined,
		windows: setUp.windows.map(({ from, until }) => ({ from: from + shift, until: until + shift })),
		length,
		works: works && sets(one),
		corrects: works && !sets(one),
	};
}

/** Frames without the tracker run by themselves on a camera that no tracked target uses, where there are several. */
function withCameras(targets: readonly SkyTask[]): readonly SkyTask[] {
	const cameras = new Set(targets.map(({ camera }) => camera));
	const onTracker = new Set(targets.filter(({ tracked }) => tracked).map(({ camera }) => camera));
	return cameras.size < 2 ? targets : targets.map((target) => ({ ...target, alone: !onTracker.has(target.camera) }));
}

function skyTask(target: PlacedTarget, night: EvaluatedNight): SkyTask {
	const { entry, tracked, timed, series, usable, lens, directionAt } = target;
	const { exposure = 0, gap = 0, darks = 0 } = entry;
	const ground = foregroundOf(entry);
	// Turning from panel to panel lengthens each frame of a panorama alike.
	const frame = target.panorama ? (target.seconds + gap) / target.frameCount : exposure + gap;
	return {
		tracked,
		at: timed ? series.from : undefined,
		frame: frame * SECOND_MS,
		gap: gap * SECOND_MS,
		frames: target.frameCount,
		windows:
			entry.until === undefined
				? usable
				: both(usable, [{ from: night.sky.span.from, until: night.instant(entry.until) }]),
		lens: lens?.name ?? "",
		camera: lens?.content.camera ?? "",
		alone: false,
		aim: JSON.stringify(entry.aim),
		reAim: reAim(lens),
		test: testFrame(entry),
		toward: toVector(directionAt(series.from)),
		foreground: ground && groundTask(ground, exposure, target, night),
		darks: darks === 0 ? 0 : darks * exposure * SECOND_MS + usual.DARKS * MINUTE_MS,
		moved: entry.tripod === "moved",
	};
}

/** Seconds; whatever is exposed for so long is too bright in the dusk. Common practice, no source. */
const NIGHT_EXPOSURE = 10;

function groundTask(
	ground: Foreground,
	skyExposure: number,
	{ panorama, moonlight, needsDark, darkness }: PlacedTarget,
	night: EvaluatedNight,
): GroundTask {
	const { light, at, "focused-at": focusedAt, exposure = skyExposure } = ground;
	// Exposed as the night's sky is, it is taken in the light of the night's sky.
	const isOfNight = light === undefined && needsDark && exposure >= NIGHT_EXPOSURE && darkness.sunDark.length > 0;
	return {
		length: groundSeconds(ground, skyExposure, panorama) * SECOND_MS + usual.FOREGROUND * MINUTE_MS,
		at: at === undefined ? undefined : night.instant(at),
		windows: moonlight ? moonlight() : isOfNight ? darkness.sunDark : lightOf(light, night),
		refocus: focusedAt === undefined ? 0 : focusTakes(night),
	};
}

/** When the light for the ground is there. */
function lightOf(light: Foreground["light"], { sky, onSite }: EvaluatedNight): readonly Interval[] {
	const { sun } = sky;
	const between = (from: number | undefined, until: number | undefined): readonly Interval[] =>
		from === undefined || until === undefined || from >= until ? [] : [{ from, until }];
	switch (light) {
		case "dusk":
			return [
				...between(sun.sunset, sun["nautical-dusk"] ?? sun.sunrise),
				...(sun["nautical-dusk"] === undefined ? [] : between(sun["nautical-dawn"], sun.sunrise)),
			];
		case "dark":
			return sky.sunDark;
		case "moon":
		case "lamp":
			return between(sun["civil-dusk"], sun["civil-dawn"]);
		case undefined:
			// Where the Sun does not set the ground has its light at any time.
			return sun.sunset === undefined ? [onSite] : between(sun.sunset, sun.sunrise ?? onSite.until);
	}
}
