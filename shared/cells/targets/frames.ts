/** The frames of a target's series, and what their stars do whatever the alignment. */

import { carried, heldLevel } from "../../alignment/attitude.ts";
import { NO_BIAS } from "../../alignment/axis-error.ts";
import { type Frame, frameOf, SHARP_ABOVE, type Shot } from "../../alignment/frame-stars.ts";
import { longestOnPole, longestUntracked } from "../../alignment/longest-exposure.ts";
import { ON_POLE, type Trails, trailFor, trailsOf } from "../../alignment/trail.ts";
import { axisErrorAllowed, greatestQuantile } from "../../alignment/trail-chance.ts";
import type { EpochMs } from "../../earth/zone.ts";
import { lazily } from "../../memory/memory.ts";
import { fieldAcross } from "../../optics/camera.ts";
import { npfFull } from "../../optics/untracked.ts";
import { bendsOf } from "../../sky/cover.ts";
import { SKY_RATE_RAD } from "../../sky/frame.ts";
import type { Direction } from "../../sky/horizontal.ts";
import type { Interval } from "../../sky/intervals.ts";
import { equatorialPlace, type SkyBody } from "../../sky/place.ts";
import type { EvaluatedLens } from "../lens/lens.ts";
import type { EvaluatedSite } from "../site/site.ts";
import type { Drive } from "../tracker/drive.ts";
import type { TargetEntry } from "./keys.ts";
import type { TargetPanorama } from "./panorama.ts";
import { isVisible, windowNamed } from "./visible.ts";

/** A frame of a series and when its shutter opens. */
export interface TimedFrame extends Frame {
	readonly at: EpochMs;
}

/** A target as far as its frames mind it. */
interface Framed {
	readonly entry: TargetEntry;
	readonly body: SkyBody | undefined;
	readonly directionAt: (at: EpochMs) => Direction;
	readonly series: Interval;
	readonly tracked: boolean;
	readonly trailLimit: number;
	readonly panorama: TargetPanorama | undefined;
}

/** Frames of a target, with the trails of their stars; each computed when it is first asked for. */
export interface Frames {
	readonly exposure: number;
	readonly frames: () => readonly [TimedFrame, ...TimedFrame[]];
	readonly trails: () => readonly Trails[];
	readonly floor: () => number;
	readonly onPole: () => number;
	readonly untracked: () => number;
	readonly allowed: () => number | undefined;
	readonly npfFull: () => number | undefined;
	readonly ground: number;
	/** Each frame by itself. */
	readonly each: () => readonly Frames[];
}

/** Frames of a long series that are looked at: one every so often, the first and the last among them. */
const LOOK_EVERY_MS = 90 * 60_000;
const MOST_LOOKS = 6;
/** In a minute the sky turns by a quarter of a degree: the first frame and the last are alike. */
const ALIKE_MS = 60_000;

export function framesOf(
	target: Framed,
	lens: EvaluatedLens,
	site: EvaluatedSite,
	drive: Drive,
	exposure: number,
): Frames {
	const { tracked, trailLimit, directionAt, series, body, entry, panorama } = target;
	const { periodicError } = drive;
	const rate = tracked ? drive.rate : 0;
	const { cover, spot } = site;
	const frames = lazily((): readonly [TimedFrame, ...TimedFrame[]] => {
		const named = windowNamed(cover, entry.opening);
		// Under a roof only what the opening shows counts; about a thing with a window the sky goes on.
		const window = cover.openings?.some(({ outline }) => outline === named) ? named : undefined;
		const sharpAbove = entry["sharp-above"] ?? SHARP_ABOVE;
		const sky = {
			isSky: (direction: Direction) => isVisible(cover, direction, window),
			bends: bendsOf(cover, window, sharpAbove),
		};
		const attitude = heldLevel(directionAt(series.from));
		const frameAt = (
			at: EpochMs,
			// The tracker carries the camera on from frame to frame, and the frame rolls.
			held = carried(attitude, spot.latitude, (at - series.from) / 1000, rate),
		): TimedFrame => {
			const shot: Shot = {
				camera: lens.camera,
				vertical: entry.orientation === "portrait",
				attitude: held,
				spot,
				sky,
				sharpAbove,
				rate,
				periodicError,
			};
			return { ...frameOf(shot), at };
		};
		const [panel, ...panels] = panorama?.panels ?? [];
		if (panel) return [frameAt(panel.at, panel.attitude), ...panels.map((one) => frameAt(one.at, one.attitude))];
		// A camera that stands still shows the same sky on every frame.
		const length = rate === 0 ? 0 : Math.max(0, series.until - exposure * 1000 - series.from);
		const looks =
			length > Math.max(0.5 * exposure * 1000, ALIKE_MS)
				? Math.min(MOST_LOOKS, 1 + Math.ceil(length / LOOK_EVERY_MS))
				: 1;
		const all = Array.from({ length: looks }, (_, i) =>
			frameAt(series.from + (looks === 1 ? 0 : (length * i) / (looks - 1))),
		);
		// Before a target rises, or when it has set, a frame has no stars that could trail.
		const seen = all.filter(({ showsSky }) => showsSky);
		const [first, ...others] = seen.length > 0 ? seen : all;
		return [first as TimedFrame, ...others];
	});
	const of = (frames: Frames["frames"]): Frames => {
		const trails = lazily(() => frames().map((frame) => trailsOf(frame, exposure)));
		return {
			exposure,
			frames,
			trails,
			each: lazily(() => frames().map((frame) => of(() => [frame]))),
			floor: lazily(() =>
				periodicError && rate !== 0
					? greatestQuantile(trails(), ON_POLE, NEARLY_ALL)
					: Math.max(...trails().map((one) => trailFor(one, NO_BIAS))),
			),
			onPole: lazily(() => Math.min(...frames().map((frame) => longestOnPole(frame, trailLimit)))),
			untracked: lazily(() => Math.min(...frames().map((frame) => longestUntracked(frame, trailLimit)))),
			allowed: lazily(() =>
				tracked ? Math.min(...trails().map((one) => axisErrorAllowed(one, trailLimit))) : undefined,
			),
			npfFull: lazily(() => npfFullOf(body, lens, site, series.from)),
			ground: tracked ? groundTrail(lens, rate, exposure) : 0,
		};
	};
	return of(frames);
}

/** Nineteen frames in twenty. */
export const NEARLY_ALL = 0.95;

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
