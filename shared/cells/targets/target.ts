/** What follows from a target: where it stands, when it can be taken, how long a frame may be. */
import { carried, heldLevel } from "../../alignment/attitude.ts";
import { type Frame, frameOf, SHARP_ABOVE, type Shot } from "../../alignment/frame-stars.ts";
import { longestExposure, longestOnPole, longestUntracked, WANTED_CHANCE } from "../../alignment/longest-exposure.ts";
import {
	type AxisSpread,
	driveTrails,
	fieldRotation,
	type TrailParts,
	type Trails,
	trailAtCentre,
	trailFor,
	trailsOf,
	worstStar,
} from "../../alignment/trail.ts";
import { axisErrorAllowed, chanceWithin, isSurelyWithin, trailQuantile } from "../../alignment/trail-chance.ts";
import type { MagneticField } from "../../earth/magnetism.ts";
import type { EpochMs } from "../../earth/zone.ts";
import { Kept, KeptBy, lazily } from "../../memory/memory.ts";
import { fieldAcross } from "../../optics/camera.ts";
import { npfFull } from "../../optics/untracked.ts";
import { bendsOf, type Cover, hiddenBy, windowsOf } from "../../sky/cover.ts";
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
	/** Frames of the series, from the first to the last, as they are framed; undefined without a lens or an exposure. */
	readonly frames: (() => readonly TimedFrame[]) | undefined;
	/** How their stars trail. */
	readonly trails: (() => readonly Trails[]) | undefined;
}

/** A frame of a series and when its shutter opens. */
export interface TimedFrame extends Frame {
	readonly at: EpochMs;
}

/** What makes a frame's longest trails. */
export type TrailSource = "axis" | "drive" | "refraction" | "rate";

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
	/** Median of the trail in the middle of the first frame, the drive's left out; undefined where no sky is seen there. */
	readonly centre: number | undefined;
	/** The star whose trail is longest, what makes it, and the frame it is in. */
	readonly worst: TrailParts & { readonly frame: TimedFrame };
	/** What has the greatest part in that trail. */
	readonly source: TrailSource;
	/** What the drive's periodic error alone does, pixels: on every other frame, and on all but one in twenty. */
	readonly drive: { readonly median: number; readonly most: number } | undefined;
	/** Pixels by which the fastest star moves between two frames. */
	readonly gap: number;
	/** Whether the chance is that of `WANTED_CHANCE` at least; false where the axis error is not known. */
	readonly isSure: boolean;
	/** Degrees, worst direction, the drive left out; negative when the frame trails without any; undefined when untracked. */
	readonly axisErrorAllowed: number | undefined;
	/** Turn of the field about the middle of the frame, root mean square, degrees; undefined when untracked. */
	readonly fieldRotation: number | undefined;
	/** Pixels by which the ground trails on a tracked frame. */
	readonly ground: number;
	/** With no axis error at all: rate, refraction, and periodic error 19 times in 20, pixels. */
	readonly floor: number;
	/** Longest exposure that would hold with no axis error at all, seconds. */
	readonly onPole: number;
}

/** What follows from a target's place in the list. */
type Numbered = "index" | "name";

/** A target and its frames as far as they do not depend on how the tracker is aligned, nor on the targets before it. */
export interface PlacedTarget extends Omit<EvaluatedTarget, "limits" | "trails" | "frames" | Numbered> {
	readonly framed: Frames | undefined;
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
	const tracked = isTracked(entry);
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
	return { ...base, framed: lens && exposure > 0 ? framesOf(base, lens, site, tracker, exposure) : undefined };
}

/** Seconds of exposures and of the gaps between them. */
export function seriesSeconds({ frames = 1, exposure = 0, gap = 0 }: TargetEntry): number {
	return frames * exposure + (frames - 1) * gap;
}

/** The target with what an axis error does to its frames, as far as it is known. */
export function evaluateTarget({ framed, ...base }: PlacedTarget, spread: AxisSpread | undefined): AloneTarget {
	return {
		...base,
		limits: framed && limitsOf(base, framed, spread),
		frames: framed?.frames,
		trails: framed?.trails,
	};
}

/** Whether its stars are to be arcs: then there is no limit to their trails. */
export const isOfArcs = ({ stars }: TargetEntry): boolean => stars === "trails";

/** Whether the tracker runs. */
export const isTracked = (entry: TargetEntry): boolean => entry.tracked ?? !isOfArcs(entry);

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

type Base = Omit<PlacedTarget, "framed">;

/** Frames of a target, with the trails of their stars; each computed when it is first asked for. */
interface Frames {
	readonly exposure: number;
	readonly frames: () => readonly [TimedFrame, ...TimedFrame[]];
	readonly trails: () => readonly Trails[];
	readonly floor: () => number;
	readonly onPole: () => number;
	readonly untracked: () => number;
	readonly allowed: () => number | undefined;
	readonly npfFull: () => number | undefined;
	readonly ground: number;
}

/** Frames of a long series that are looked at: one every so often, the first and the last among them. */
const LOOK_EVERY_MS = 90 * 60_000;
const MOST_LOOKS = 6;

function framesOf(
	target: Base,
	lens: EvaluatedLens,
	site: EvaluatedSite,
	tracker: TrackerContent | undefined,
	exposure: number,
): Frames {
	const { tracked, trailLimit, directionAt, series, body, entry } = target;
	const rate = tracked ? (tracker?.rate === "half" ? 0.5 : 1) : 0;
	const periodic = tracker?.["periodic-error"];
	const periodicError =
		periodic?.amplitude !== undefined && periodic.period !== undefined
			? { amplitude: periodic.amplitude, period: periodic.period }
			: undefined;
	const { cover, spot } = site;
	const frames = lazily((): readonly [TimedFrame, ...TimedFrame[]] => {
		const window = windowNamed(cover, entry.opening);
		const sharpAbove = entry["sharp-above"] ?? SHARP_ABOVE;
		const sky = {
			isSky: (direction: Direction) => isVisible(cover, direction, window),
			bends: bendsOf(cover, window, sharpAbove),
		};
		const attitude = heldLevel(directionAt(series.from));
		const frameAt = (at: EpochMs): TimedFrame => {
			const shot: Shot = {
				camera: lens.camera,
				vertical: entry.orientation === "vertical",
				// The tracker carries the camera on from frame to frame, and the frame rolls.
				attitude: carried(attitude, spot.latitude, (at - series.from) / 1000, rate),
				spot,
				sky,
				sharpAbove,
				rate,
				periodicError,
			};
			return { ...frameOf(shot), at };
		};
		// A camera that stands still shows the same sky on every frame.
		const length = rate === 0 ? 0 : Math.max(0, series.until - exposure * 1000 - series.from);
		const looks = length > 0.5 * exposure * 1000 ? Math.min(MOST_LOOKS, 1 + Math.ceil(length / LOOK_EVERY_MS)) : 1;
		const [first, ...others] = Array.from({ length: looks }, (_, i) =>
			frameAt(series.from + (looks === 1 ? 0 : (length * i) / (looks - 1))),
		);
		return [first as TimedFrame, ...others];
	});
	const trails = lazily(() => frames().map((frame) => trailsOf(frame, exposure)));
	return {
		exposure,
		frames,
		trails,
		floor: lazily(() =>
			Math.max(
				...trails().map((one) =>
					periodicError && rate !== 0
						? trailQuantile(one, ON_POLE, NEARLY_ALL)
						: trailFor(one, { along: 0, across: 0 }),
				),
			),
		),
		onPole: lazily(() => Math.min(...frames().map((frame) => longestOnPole(frame, trailLimit)))),
		untracked: lazily(() => Math.min(...frames().map((frame) => longestUntracked(frame, trailLimit)))),
		allowed: lazily(() =>
			tracked ? Math.min(...trails().map((one) => axisErrorAllowed(one, trailLimit))) : undefined,
		),
		npfFull: lazily(() => npfFullOf(body, lens, site, series.from)),
		ground: tracked ? groundTrail(lens, rate, exposure) : 0,
	};
}

const ON_POLE: AxisSpread = { covariance: { alongAlong: 0, alongAcross: 0, acrossAcross: 0 } };
/** Nineteen frames in twenty. */
const NEARLY_ALL = 0.95;

function limitsOf({ tracked, trailLimit, entry }: Base, framed: Frames, spread: AxisSpread | undefined): TargetLimits {
	const { exposure, frames, trails, floor } = framed;
	const quantile = (share: number) =>
		tracked ? (spread ? Math.max(...trails().map((one) => trailQuantile(one, spread, share))) : Number.NaN) : floor();
	const chances = lazily(() => (spread ? trails().map((one) => chanceWithin(one, spread, trailLimit)) : []));
	const chance = lazily(() =>
		tracked ? (spread ? Math.min(...chances()) : Number.NaN) : floor() <= trailLimit ? 1 : 0,
	);
	/** A frame may be the least sure at the planned exposure and another at the longest: each frame has its say. */
	const longest = lazily(() => (tracked && spread ? longestOfAll(frames(), spread, trailLimit, chances()) : undefined));
	const median = lazily(() => quantile(0.5));
	const nearlyAll = lazily(() => quantile(NEARLY_ALL));
	const worst = lazily(() =>
		trails()
			.map((one, i) => ({ ...worstStar(one, spread ?? ON_POLE), frame: frames()[i] ?? frames()[0] }))
			.reduce((most, one) => (one.whole > most.whole ? one : most)),
	);
	const isSidereal = (): boolean => worst().frame.shot.rate === 1;
	return {
		get untracked() {
			return framed.untracked();
		},
		get npfFull() {
			return framed.npfFull();
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
		get centre() {
			const [first] = trails();
			return first && trailAtCentre(first, spread?.bias ?? { along: 0, across: 0 });
		},
		get worst() {
			return worst();
		},
		get source() {
			const { axis, drive, fixed } = worst();
			if (axis >= drive && axis >= fixed) return "axis";
			return drive >= fixed ? "drive" : isSidereal() ? "refraction" : "rate";
		},
		get drive() {
			const [first] = trails();
			if (!first || first.swings.length === 1) return undefined;
			const sorted = driveTrails(first);
			const at = (share: number): number => sorted[Math.ceil(share * sorted.length) - 1] ?? 0;
			return { median: at(0.5), most: at(NEARLY_ALL) };
		},
		get isSure() {
			if (!tracked || !spread) return chance() >= WANTED_CHANCE;
			return (
				trails().every((one) => isSurelyWithin(one, spread, trailLimit, WANTED_CHANCE)) || chance() >= WANTED_CHANCE
			);
		},
		get gap() {
			const [first] = frames();
			return trailFor(trailsOf(first, entry.gap ?? 0), { along: 0, across: 0 });
		},
		get axisErrorAllowed() {
			return framed.allowed();
		},
		get floor() {
			return floor();
		},
		get onPole() {
			return framed.onPole();
		},
		get fieldRotation() {
			return tracked && spread
				? Math.max(...frames().map((frame) => fieldRotation(frame, spread, exposure)))
				: undefined;
		},
		ground: framed.ground,
	};
}

/** The longest exposure that holds on every frame of a series: the frame that is least sure is asked first. */
function longestOfAll(frames: readonly Frame[], spread: AxisSpread, limit: number, chances: readonly number[]): number {
	const [first, ...others] = frames
		.map((frame, i) => ({ frame, chance: chances[i] ?? 0 }))
		.sort((a, b) => a.chance - b.chance)
		.map(({ frame }) => frame);
	let longest = first ? longestExposure(first, spread, limit) : 0;
	for (const frame of others)
		if (chanceWithin(trailsOf(frame, longest), spread, limit) < WANTED_CHANCE - 0.001)
			longest = Math.min(longest, longestExposure(frame, spread, limit));
	return longest;
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
