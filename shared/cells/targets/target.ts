/** What follows from a target: where it stands, when it can be taken, how long a frame may be. */
import type { Covariance } from "../../alignment/axis-error.ts";
import {
	axisErrorAllowed,
	chanceWithin,
	fieldRotation,
	longestExposure,
	longestOnPole,
	longestUntracked,
	type Shot,
	type Trails,
	trailFor,
	trailQuantile,
	trailsOf,
} from "../../alignment/trail.ts";
import type { MagneticField } from "../../earth/magnetism.ts";
import type { EpochMs } from "../../earth/zone.ts";
import { Kept, KeptBy, lazily } from "../../memory/memory.ts";
import { fieldAcross } from "../../optics/camera.ts";
import { npfFull } from "../../optics/untracked.ts";
import { type Cover, hiddenBy, windowsOf } from "../../sky/cover.ts";
import { SKY_RATE_RAD } from "../../sky/frame.ts";
import type { Direction } from "../../sky/horizontal.ts";
import { both, type Interval, longest } from "../../sky/intervals.ts";
import { isWithin, type Outline } from "../../sky/outline.ts";
import { apparentDirection, equatorialPlace, findBody, type SkyBody } from "../../sky/place.ts";
import { whereTrue } from "../../sky/roots.ts";
import { turn } from "../../sky/vector.ts";
import { sentences, told } from "../../text/sentence.ts";
import type { EvaluatedLens } from "../lens/lens.ts";
import type { EvaluatedNight } from "../night/night.ts";
import type { EvaluatedSite } from "../site/site.ts";
import type { TrackerContent } from "../tracker/keys.ts";
import type { Aim, TargetEntry } from "./keys.ts";

const words = sentences("cells.targets", { place: "the place aimed at" });

/** Pixels. */
export const DEFAULT_TRAIL = 1.5;
const STEP_MS = 600_000;

export interface EvaluatedTarget {
	readonly entry: TargetEntry;
	readonly name: string;
	readonly index: number;
	/** What the frame is centred on; undefined for a fixed direction. */
	readonly body: SkyBody | undefined;
	readonly fixed: Direction | undefined;
	readonly lens: EvaluatedLens | undefined;
	/** Where the middle of the frame looks at an instant, apparent. */
	readonly directionAt: (at: EpochMs) => Direction;
	/** From the first frame's start to the last one's end. */
	readonly series: Interval;
	/** Whether the plan says when it starts. */
	readonly timed: boolean;
	/** Seconds of exposure and of gaps. */
	readonly seconds: number;
	/** When it is above the skyline and in its opening, over the stay. */
	readonly inView: readonly Interval[];
	/** Of these, what is dark and moonless enough; all of them for a fixed direction. */
	readonly usable: readonly Interval[];
	/** Whether it needs a dark sky. */
	readonly needsDark: boolean;
	readonly tracked: boolean;
	readonly trailLimit: number;
	readonly limits: TargetLimits | undefined;
	/** How the stars of the first and of the last frame trail; undefined without a lens or an exposure. */
	readonly trails: (() => readonly Trails[]) | undefined;
}

/** Each is computed when it is first asked for. */
export interface TargetLimits {
	readonly untracked: number;
	readonly npfFull: number | undefined;
	/** Undefined without a method whose error is known, or untracked. */
	readonly tracked: number | undefined;
	/** Trail over the planned exposure, pixels: median and 95th percentile for a tracked frame, both the same for an untracked one. */
	readonly trail: number;
	readonly trail95: number;
	/** Chance that the planned frame keeps within its trail limit. */
	readonly chance: number;
	/** Degrees, worst direction; undefined when untracked. */
	readonly axisErrorAllowed: number | undefined;
	/** Turn of the field about the middle of the frame, one standard deviation, degrees; undefined when untracked. */
	readonly fieldRotation: number | undefined;
	/** Pixels by which the ground trails on a tracked frame. */
	readonly ground: number;
	/** With no axis error at all: rate, refraction, periodic error, pixels. */
	readonly floor: number;
	/** Longest exposure that would hold with no axis error at all, seconds. */
	readonly onPole: number;
}

/** What follows from a target's place in the list. */
type Numbered = "index" | "name";

/** A target and its frames as far as they do not depend on how the tracker is aligned, nor on the targets before it. */
export interface PlacedTarget extends Omit<EvaluatedTarget, "limits" | "trails" | Numbered> {
	readonly frames: Frames | undefined;
}

/** A target as the others have nothing to do with it. */
export type AloneTarget = Omit<EvaluatedTarget, Numbered>;

/** Whether a compass was read for it: only then does the place of a target depend on the magnetic field. */
export const usesCompass = ({ aim }: TargetEntry): boolean =>
	typeof aim === "object" && "azimuth" in aim && aim.azimuth?.north === "magnetic";

/** Bodies of one night whose times in view are remembered: many targets look at the same few. */
const KEPT_VIEWS = 64;
const views = new KeptBy<EvaluatedSite, KeptBy<EvaluatedNight, Kept<string, readonly Interval[]>>>();

/** Undefined while the aim cannot be read or found. */
export function placeTarget(
	entry: TargetEntry,
	site: EvaluatedSite,
	night: EvaluatedNight,
	lens: EvaluatedLens | undefined,
	tracker: TrackerContent | undefined,
	field: MagneticField | undefined,
): PlacedTarget | undefined {
	const aimed = entry.aim === undefined ? undefined : aimOf(entry.aim, field?.declination ?? 0);
	if (!aimed) return undefined;
	const { body, fixed } = aimed;
	const { spot, cover } = site;
	const directionAt = (at: EpochMs): Direction => fixed ?? apparentDirection(body as SkyBody, spot, at);
	const needsDark = fixed === undefined && body?.type !== "sun" && body?.type !== "moon";
	const window = windowNamed(cover, entry.opening);
	const visible = (at: EpochMs): boolean => isVisible(cover, directionAt(at), window);
	// A fixed direction may well look at the ground: nothing needs to stand above the skyline.
	const inView = fixed
		? [night.onSite]
		: views
				.of(site, () => new KeptBy())
				.of(night, () => new Kept(KEPT_VIEWS))
				.of(JSON.stringify([entry.aim, window && entry.opening]), () => whereTrue(visible, night.onSite, STEP_MS));
	const usable = needsDark ? both(inView, night.moonless) : inView;
	const exposure = entry.exposure ?? 0;
	const seconds = seriesSeconds(entry);
	const clock = entry.from ?? entry.at;
	const from =
		clock === undefined ? (longest(usable)?.from ?? longest(inView)?.from ?? night.onSite.from) : night.instant(clock);
	const series = { from, until: from + seconds * 1000 };
	const tracked = entry.tracked ?? true;
	const trailLimit = entry.trail ?? DEFAULT_TRAIL;
	const base = {
		entry,
		body,
		fixed,
		lens,
		directionAt,
		series,
		timed: clock !== undefined,
		seconds,
		inView,
		usable,
		needsDark,
		tracked,
		trailLimit,
	};
	return { ...base, frames: lens && exposure > 0 ? framesOf(base, lens, site, tracker, exposure) : undefined };
}

/** Seconds of exposures and of the gaps between them. */
export function seriesSeconds({ frames = 1, exposure = 0, gap = 0 }: TargetEntry): number {
	return frames * exposure + (frames - 1) * gap;
}

/** The target with what an axis error of a covariance does to its frames. */
export function evaluateTarget({ frames, ...base }: PlacedTarget, covariance: Covariance | undefined): AloneTarget {
	return { ...base, limits: frames && limitsOf(base, frames, covariance), trails: frames?.trails };
}

/** What the plan calls a target. */
export const targetName = ({ name }: TargetEntry, index: number): string => name ?? `target ${index + 1}`;

/** The target in its place in the list. */
export const numberedTarget = (target: AloneTarget, index: number): EvaluatedTarget => ({
	...target,
	name: targetName(target.entry, index),
	index,
});

/** The window of a cover that a target names. */
export const windowNamed = (cover: Cover, opening: string | undefined): Outline | undefined =>
	opening === undefined ? undefined : windowsOf(cover).find(({ name }) => name === opening)?.outline;

/** Whether a direction can be seen, and through a window, if there is one to be kept to. */
export const isVisible = (cover: Cover, direction: Direction, window: Outline | undefined): boolean =>
	hiddenBy(cover, direction) === undefined && (window === undefined || isWithin(window, direction));

/** `magnetic` is the magnetic declination, for a direction typed as a compass reading. */
function aimOf(aim: Aim, magnetic: number): { body?: SkyBody; fixed?: Direction } | undefined {
	if (typeof aim === "string") {
		const body = findBody(aim);
		return body && { body };
	}
	if ("azimuth" in aim || "altitude" in aim) {
		const { azimuth, altitude } = aim as { azimuth?: { degrees: number; north: string }; altitude?: number };
		if (!azimuth || altitude === undefined) return undefined;
		return {
			fixed: { azimuth: azimuth.north === "true" ? azimuth.degrees : turn(azimuth.degrees + magnetic), altitude },
		};
	}
	const { "right-ascension": rightAscension, declination } = aim as {
		"right-ascension"?: number;
		declination?: number;
	};
	if (rightAscension === undefined || declination === undefined) return undefined;
	return { body: { type: "fixed", name: told(words.place()), rightAscension, declination } };
}

type Base = Omit<PlacedTarget, "frames">;

/** The first and the last frame of a target, with the trails of their stars; each computed when it is first asked for. */
interface Frames {
	readonly exposure: number;
	readonly shots: readonly [Shot, ...Shot[]];
	readonly trails: () => readonly Trails[];
	readonly floor: () => number;
	readonly onPole: () => number;
	readonly untracked: () => number;
	readonly allowed: () => number | undefined;
	readonly npfFull: () => number | undefined;
	readonly ground: number;
}

function framesOf(
	target: Base,
	lens: EvaluatedLens,
	site: EvaluatedSite,
	tracker: TrackerContent | undefined,
	exposure: number,
): Frames {
	const { tracked, trailLimit, directionAt, series, body } = target;
	const rate = tracked ? (tracker?.rate === "half" ? 0.5 : 1) : 0;
	const periodic = tracker?.["periodic-error"];
	const periodicError =
		periodic?.amplitude !== undefined && periodic.period !== undefined
			? { amplitude: periodic.amplitude, period: periodic.period }
			: undefined;
	const shotAt = (at: EpochMs): Shot => ({
		camera: lens.camera,
		vertical: target.entry.orientation === "vertical",
		aim: directionAt(at),
		spot: site.spot,
		skylineAt: site.cover.skylineAt,
		rate,
		periodicError,
	});
	const first = shotAt(series.from);
	const several = series.until - series.from > 1.5 * exposure * 1000;
	const shots: Frames["shots"] = several
		? [first, shotAt(Math.max(series.from, series.until - exposure * 1000))]
		: [first];
	const trails = lazily(() => shots.map((shot) => trailsOf(shot, exposure)));
	return {
		exposure,
		shots,
		trails,
		floor: lazily(() => Math.max(...trails().map((one) => trailFor(one, { along: 0, across: 0 })))),
		onPole: lazily(() => Math.min(...shots.map((shot) => longestOnPole(shot, trailLimit)))),
		untracked: lazily(() => Math.min(...shots.map((shot) => longestUntracked(shot, trailLimit)))),
		allowed: lazily(() =>
			tracked ? Math.min(...trails().map((one) => axisErrorAllowed(one, trailLimit))) : undefined,
		),
		npfFull: lazily(() => npfFullOf(body, lens, site, series.from)),
		ground: tracked ? groundTrail(lens, rate, exposure) : 0,
	};
}

function limitsOf({ tracked, trailLimit }: Base, frames: Frames, covariance: Covariance | undefined): TargetLimits {
	const { exposure, shots, trails, floor } = frames;
	const quantile = (share: number) =>
		tracked
			? covariance
				? Math.max(...trails().map((one) => trailQuantile(one, covariance, share)))
				: Number.NaN
			: floor();
	const chances = lazily(() => (covariance ? trails().map((one) => chanceWithin(one, covariance, trailLimit)) : []));
	const chance = lazily(() =>
		tracked ? (covariance ? Math.min(...chances()) : Number.NaN) : floor() <= trailLimit ? 1 : 0,
	);
	/** The frame that is least sure to hold decides how long all may be. */
	const worstShot = lazily(() => shots[chances().indexOf(Math.min(...chances()))] ?? shots[0]);
	const longest = lazily(() =>
		tracked && covariance ? longestExposure(worstShot(), covariance, trailLimit) : undefined,
	);
	const median = lazily(() => quantile(0.5));
	const nearlyAll = lazily(() => quantile(0.95));
	return {
		get untracked() {
			return frames.untracked();
		},
		get npfFull() {
			return frames.npfFull();
		},
		get tracked() {
			return longest();
		},
		get trail() {
			return median();
		},
		get trail95() {
			return nearlyAll();
		},
		get chance() {
			return chance();
		},
		get axisErrorAllowed() {
			return frames.allowed();
		},
		get floor() {
			return floor();
		},
		get onPole() {
			return frames.onPole();
		},
		get fieldRotation() {
			return tracked && covariance
				? Math.max(...shots.map((shot) => fieldRotation(shot, covariance, exposure)))
				: undefined;
		},
		ground: frames.ground,
	};
}

/** The declination in the frame that is nearest the equator counts. */
function npfFullOf(
	body: SkyBody | undefined,
	lens: EvaluatedLens,
	site: EvaluatedSite,
	at: EpochMs,
): number | undefined {
	if (!body) return undefined;
	const half = fieldAcross(lens.camera, Math.hypot(...lens.camera.sensor)) / 2;
	return npfFull(lens.camera, Math.max(0, Math.abs(equatorialPlace(body, site.spot, at).declination) - half));
}

/** Pixels by which a thing that stands still trails, at most, while the camera turns: at the middle of the frame, on the equator. */
function groundTrail({ camera }: EvaluatedLens, rate: number, exposure: number): number {
	const angle = rate * exposure * SKY_RATE_RAD;
	return (angle * camera.focalLength * 1000) / camera.pixelPitch;
}
