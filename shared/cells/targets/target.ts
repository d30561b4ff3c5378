/** What follows from a target: where it stands, and when it can be taken. */
import { carried, heldLevel } from "../../alignment/attitude.ts";
import type { AxisSpread, Trails } from "../../alignment/trail.ts";
import type { MagneticField } from "../../earth/magnetism.ts";
import { type EpochMs, minuteOf } from "../../earth/zone.ts";
import { Kept, KeptBy, lazily } from "../../memory/memory.ts";
import type { SkyRange } from "../../optics/panorama-rows.ts";
import { archAt } from "../../sky/arch.ts";
import { fromGalactic } from "../../sky/galactic.ts";
import { type Direction, toDirection } from "../../sky/horizontal.ts";
import { both, type Interval, longest, withWholeMinutes } from "../../sky/intervals.ts";
import { apparentDirection, findBody, type SkyBody } from "../../sky/place.ts";
import { whereTrue } from "../../sky/roots.ts";
import { turn } from "../../sky/vector.ts";
import { sentences, told } from "../../text/sentence.ts";
import { atAperture, type EvaluatedLens } from "../lens/lens.ts";
import { type Darkness, darknessFor, type EvaluatedNight } from "../night/night.ts";
import type { EvaluatedSite } from "../site/site.ts";
import type { Drive } from "../tracker/drive.ts";
import { archOf, type TargetArch } from "./arch.ts";
import { clockOfEntry, compositionOf, isMagnetic, momentOf } from "./composition.ts";
import { type Frames, framesOf, type TimedFrame } from "./frames.ts";
import { type Framing, framingOf } from "./framing.ts";
import type { Aim, Foreground, TargetEntry } from "./keys.ts";
import { limitsOf, type TargetLimits } from "./limits.ts";
import { moonDuring, moonlightOn, type Side, type TargetMoon } from "./moon.ts";
import { panoramaFrom, panoramaOf, type TargetPanorama, type TooManyPanels } from "./panorama.ts";
import { showerOf, type TargetShower } from "./shower.ts";
import { sizeOf } from "./size.ts";
import { isVisible, windowNamed } from "./visible.ts";

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
	/** Where the middle of the frame looks at an instant, apparent. A tracker carries a fixed direction on from the first frame. */
	readonly directionAt: (at: EpochMs) => Direction;
	/** From the first frame's start to the last one's end. */
	readonly series: Interval;
	/** Whether the plan says when it starts, by the clock or by a composition that comes about. */
	readonly timed: boolean;
	/** Seconds of exposure and of gaps. */
	readonly seconds: number;
	/** When it is above the skyline and in its opening, over the time on site. */
	readonly inView: readonly Interval[];
	/** Of these, what is dark and moonless enough where that matters; all of the time on site for a frame of the ground. */
	readonly usable: readonly Interval[];
	/** How dark it has to be, and when it is. */
	readonly darkness: Darkness;
	/** Whether it is of the sky; else a fixed direction at the ground or a wall, for which nothing else is asked. */
	readonly ofTheSky: boolean;
	/** Whether it needs a dark sky. */
	readonly needsDark: boolean;
	/** Whether the sky is surely what it is for: an untracked fixed direction may be for the ground under it. */
	readonly forSky: boolean;
	readonly tracked: boolean;
	readonly trailLimit: number;
	readonly limits: TargetLimits | undefined;
	/** Of each panel by itself, as they are taken; undefined for a single picture. */
	readonly panelLimits: (() => readonly TargetLimits[]) | undefined;
	/** Of an aim at the Milky Way's arch. */
	readonly arch: TargetArch | undefined;
	/** Its panels; undefined for a single picture, and without a lens. */
	readonly panorama: TargetPanorama | undefined;
	/** How many panels were asked for, where they are too many: it is then computed as a single picture. */
	readonly tooManyPanels: TooManyPanels | undefined;
	/** Frames of the sky in all: of all panels. */
	readonly frameCount: number;
	/** The shower that is named beside it. */
	readonly shower: TargetShower | undefined;
	/** How it lies in its frames; undefined without a lens. */
	readonly framing: Framing | undefined;
	/** The Moon while its frames are taken; undefined where it is down. */
	readonly moon: () => TargetMoon | undefined;
	/** When the Moon lights the ground as it is asked for; undefined where it is not. */
	readonly moonlight: (() => readonly Interval[]) | undefined;
	/** Frames of the series, from the first to the last, as they are framed, or of each panel the first; undefined without a lens or an exposure. */
	readonly frames: (() => readonly TimedFrame[]) | undefined;
	/** How their stars trail. */
	readonly trails: (() => readonly Trails[]) | undefined;
}

/** What follows from a target's place in the list. */
type Numbered = "index" | "name";

/** A target and its frames as far as they do not depend on how the tracker is aligned, nor on the targets before it. */
export interface PlacedTarget extends Omit<EvaluatedTarget, "limits" | "panelLimits" | "trails" | "frames" | Numbered> {
	readonly framed: Frames | undefined;
}

/** A target as the others have nothing to do with it. */
export type AloneTarget = Omit<EvaluatedTarget, Numbered>;

/** Whether a compass was read for it: only then does the place of a target depend on the magnetic field. */
export const usesCompass = (entry: TargetEntry): boolean => {
	const { aim } = entry;
	return (
		(typeof aim === "object" && "azimuth" in aim && aim.azimuth?.north === "magnetic") ||
		(typeof aim === "object" &&
			"bearings" in aim &&
			aim.bearings?.some(({ north }) => north === "magnetic") === true) ||
		foregroundOf(entry)?.panorama?.bearing?.north === "magnetic" ||
		isMagnetic(compositionOf(entry))
	);
};

/** Bodies of one night whose times in view are remembered: many targets look at the same few. */
const KEPT_VIEWS = 64;
const views = new KeptBy<EvaluatedSite, KeptBy<EvaluatedNight, Kept<string, readonly Interval[]>>>();

/**
 * Undefined while the aim cannot be read or found. `given`: the lens as its cell has it. `start`: when it begins where the
 * plan does not say; `end`: when the last frame ends for which there is time, where that is not its last.
 */
export function placeTarget(
	entry: TargetEntry,
	site: EvaluatedSite,
	night: EvaluatedNight,
	given: EvaluatedLens | undefined,
	drive: Drive,
	field: MagneticField | undefined,
	start?: EpochMs,
	end?: EpochMs,
): PlacedTarget | undefined {
	const aimed = entry.aim === undefined ? undefined : aimOf(entry.aim, field?.declination ?? 0);
	if (!aimed) return undefined;
	const { body, fixed, range } = aimed;
	const { spot, cover } = site;
	const lens = atAperture(given, entry["f-number"]);
	const tracked = isTracked(entry);
	const isBright = body?.type === "sun" || body?.type === "moon";
	const window = windowNamed(cover, entry.opening);
	const ofTheSky =
		fixed === undefined ||
		entry.stars !== undefined ||
		entry.opening !== undefined ||
		isVisible(cover, fixed, undefined) ||
		(range !== undefined && tracked);
	const needsDark = ofTheSky && !isBright;
	const forSky = ofTheSky && (fixed === undefined || tracked || entry.stars !== undefined);
	const inView = fixed
		? isVisible(cover, fixed, window)
			? [night.onSite]
			: []
		: views
				.of(site, () => new KeptBy())
				.of(night, () => new Kept(KEPT_VIEWS))
				.of(JSON.stringify([entry.aim, window && entry.opening]), () =>
					withWholeMinutes(
						whereTrue(
							(at) => isVisible(cover, apparentDirection(body as SkyBody, spot, at), window),
							night.onSite,
							STEP_MS,
						),
					),
				);
	const darkness = darknessFor(night, spot, entry);
	const usable = !ofTheSky ? [night.onSite] : needsDark ? withWholeMinutes(both(inView, darkness.moonless)) : inView;
	const exposure = entry.exposure ?? 0;
	const clock = clockOfEntry(entry);
	const composition = body && compositionOf(entry);
	const composed =
		composition &&
		momentOf(
			composition,
			(at) => apparentDirection(body, spot, at),
			night.onSite,
			[usable, inView],
			night.zone,
			field?.declination ?? 0,
		);
	const planned = clock === undefined ? composed : night.instant(clock);
	// Its time is told to the minute: it starts on one, and everything is computed for that.
	const from =
		planned ??
		start ??
		minuteOf(night.zone, longest(usable)?.from ?? longest(inView)?.from ?? night.onSite.from, Math.ceil);
	const asked = panoramaOf(entry);
	const laid =
		asked &&
		lens &&
		panoramaFrom(
			entry,
			asked,
			lens,
			{
				middle: fixed ?? apparentDirection(body as SkyBody, spot, from),
				range,
				arch: body?.type === "arch" ? archAt(spot, cover, from) : undefined,
			},
			from,
			spot.latitude,
			tracked ? drive.rate : 0,
			field?.declination ?? 0,
			cover.skylineAt,
		);
	const panorama = laid && "panels" in laid ? laid : undefined;
	const seconds = end === undefined ? (panorama?.seconds ?? seriesSeconds(entry)) : (end - from) / 1000;
	const series = { from, until: from + seconds * 1000 };
	const framed = fixed ?? (body?.type === "arch" ? apparentDirection(body, spot, from) : undefined);
	const directionAt = framed
		? carriedFrom(framed, from, spot.latitude, tracked ? drive.rate : 0)
		: (at: EpochMs): Direction => apparentDirection(body as SkyBody, spot, at);
	const trailLimit = entry.trail ?? DEFAULT_TRAIL;
	const portrait = entry.orientation === "portrait";
	const rate = tracked ? drive.rate : 0;
	const extent = sizeOf({ entry, body }) ?? 0;
	// A panorama has no one frame to say it of.
	const framing =
		lens && !panorama
			? framingOf({ body, directionAt, series, usable, portrait, extent, rate }, lens, site)
			: undefined;
	const lit = moonAsked(entry);
	const base = {
		entry,
		arch: body?.type === "arch" ? archOf(site, lens, portrait, series, usable, night.onSite) : undefined,
		shower: showerOf(entry.shower, spot, series, darkness.dark, directionAt),
		framing,
		moon: lazily(() => moonDuring(site, night, series, directionAt, framing?.place)),
		moonlight: lit && lazily(() => moonlightOn(site, night, directionAt(from).azimuth, lit.side)),
		body,
		fixed,
		lens,
		directionAt,
		series,
		timed: planned !== undefined,
		seconds,
		inView,
		usable,
		darkness,
		ofTheSky,
		needsDark,
		forSky,
		tracked,
		trailLimit,
		panorama,
		tooManyPanels: laid && "panels" in laid ? undefined : laid,
		frameCount: panorama?.frames ?? entry.frames ?? 1,
	};
	return { ...base, framed: lens && exposure > 0 ? framesOf(base, lens, site, drive, exposure) : undefined };
}

/** A direction that is framed until a moment, and from then on carried by a tracker at a rate. */
function carriedFrom(fixed: Direction, from: EpochMs, latitude: number, rate: number): (at: EpochMs) => Direction {
	if (rate === 0) return () => fixed;
	const framed = heldLevel(fixed);
	return (at) => (at <= from ? fixed : toDirection(carried(framed, latitude, (at - from) / 1000, rate).forward));
}

/** Seconds of exposures and of the gaps between them. */
export function seriesSeconds({ frames = 1, exposure = 0, gap = 0 }: TargetEntry): number {
	return frames * exposure + (frames - 1) * gap;
}

/** Seconds of exposure alone: of all frames of the sky that are planned, or of those that are taken of them. */
export const exposureSeconds = (
	{ entry, frameCount }: Pick<EvaluatedTarget, "entry" | "frameCount">,
	frames = frameCount,
): number => frames * (entry.exposure ?? 0);

/** The target with what an axis error does to its frames, as far as it is known. */
export function evaluateTarget({ framed, ...base }: PlacedTarget, spread: AxisSpread | undefined): AloneTarget {
	return {
		...base,
		limits: framed && limitsOf(base, framed, spread),
		panelLimits: framed && base.panorama && lazily(() => framed.each().map((one) => limitsOf(base, one, spread))),
		frames: framed?.frames,
		trails: framed?.trails,
	};
}

/** The frames of the ground that it wants; `true` wants one like the sky's. */
export function foregroundOf({ foreground }: TargetEntry): Foreground | undefined {
	if (foreground === true) return {};
	return foreground ? (foreground as Foreground) : undefined;
}

/** Whether the ground is to be lit by the Moon, and from where. */
export function moonAsked(entry: TargetEntry): { readonly side: Side | undefined } | undefined {
	const { light, "lit-from": side } = foregroundOf(entry) ?? {};
	return light === "moon" || (light === undefined && side !== undefined) ? { side } : undefined;
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

/** `magnetic` is the magnetic declination, for a direction typed as a compass reading. */
function aimOf(
	aim: Aim,
	magnetic: number,
): { readonly body?: SkyBody; readonly fixed?: Direction; readonly range?: SkyRange } | undefined {
	if (typeof aim === "string") {
		const body = findBody(aim);
		return body && { body };
	}
	if ("comet" in aim) {
		const body = aim.comet === undefined ? undefined : findBody(aim.comet);
		return body && { body };
	}
	if ("azimuth" in aim || "altitude" in aim) {
		const { azimuth, altitude } = aim as { azimuth?: { degrees: number; north: string }; altitude?: number };
		if (!azimuth || altitude === undefined) return undefined;
		return {
			fixed: { azimuth: azimuth.north === "true" ? azimuth.degrees : turn(azimuth.degrees + magnetic), altitude },
		};
	}
	if ("bearings" in aim || "altitudes" in aim) {
		const { bearings = [], altitudes = [] } = aim as {
			bearings?: readonly { degrees: number; north: string }[];
			altitudes?: readonly number[];
		};
		const [left, right] = bearings.map(({ degrees, north }) => (north === "true" ? degrees : degrees + magnetic));
		const [one, other] = altitudes;
		if (left === undefined || right === undefined || one === undefined || other === undefined) return undefined;
		// From its left end clockwise to its right one; the same bearing twice is once around.
		const wide = turn(right - left) || 360;
		const range = { left: turn(left), right: turn(left) + wide, low: Math.min(one, other), high: Math.max(one, other) };
		return { range, fixed: { azimuth: turn(left + wide / 2), altitude: (range.low + range.high) / 2 } };
	}
	if ("galactic-longitude" in aim || "galactic-latitude" in aim) {
		const { "galactic-longitude": longitude, "galactic-latitude": latitude } = aim as {
			"galactic-longitude"?: number;
			"galactic-latitude"?: number;
		};
		if (longitude === undefined || latitude === undefined) return undefined;
		return { body: { type: "fixed", name: told(words.place()), ...fromGalactic(longitude, latitude) } };
	}
	const { "right-ascension": rightAscension, declination } = aim as {
		"right-ascension"?: number;
		declination?: number;
	};
	if (rightAscension === undefined || declination === undefined) return undefined;
	return { body: { type: "fixed", name: told(words.place()), rightAscension, declination } };
}
