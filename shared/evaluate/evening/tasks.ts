/** What an evening is made of, as the scheduler sees it: times, and nothing of the sky. Lengths in milliseconds. */
import type { EpochMs } from "../../earth/zone.ts";
import type { Interval } from "../../sky/intervals.ts";
import type { Vector } from "../../sky/vector.ts";

/** A way to align that may be used. */
export interface AlignTask {
	/** When its middle is, where that is fixed or found; undefined where it can be done at any time of its windows. */
	readonly at: EpochMs | undefined;
	/** Whether the plan itself says when. */
	readonly fixed: boolean;
	/** Where its middle may be. */
	readonly windows: readonly Interval[];
	readonly length: number;
	/** Whether it can be done tonight at all. */
	readonly works: boolean;
	/** Whether it corrects what another one has set, at its time if it has one, and aligns by itself nothing. */
	readonly corrects: boolean;
}

/** Frames of the ground without the tracker. */
export interface GroundTask {
	readonly length: number;
	/** When the plan says it begins. */
	readonly at: EpochMs | undefined;
	/** When its light is there. */
	readonly windows: readonly Interval[];
	/** For focusing on the stars again behind it; 0 where it has their focus. */
	readonly refocus: number;
}

/** A target's frames. */
export interface SkyTask {
	readonly tracked: boolean;
	/** When the plan says it begins. */
	readonly at: EpochMs | undefined;
	/** Of one frame and its gap; a series is one gap shorter. */
	readonly frame: number;
	readonly gap: number;
	readonly frames: number;
	/** When its frames can be taken. */
	readonly windows: readonly Interval[];
	/** What it is taken with: targets with the same share a lens, and with the same `aim` a direction. */
	readonly lens: string;
	readonly aim: string;
	readonly camera: string;
	/** Whether its frames run by themselves: no tracker, and a camera that no tracked target uses. Hands are free then. */
	readonly alone: boolean;
	/** For aiming at it, whatever came before. */
	readonly reAim: number;
	/** For a test frame. */
	readonly test: number;
	/** Where it is when its series begins, or first can: a unit vector. */
	readonly toward: Vector;
	readonly foreground: GroundTask | undefined;
	/** Dark frames, as long as they take. */
	readonly darks: number;
	/** Whether the tripod is moved before it: it is set up and aligned again. */
	readonly moved: boolean;
}

export interface Tasks {
	readonly onSite: Interval;
	/** Whether the plan says when one arrives and leaves; without, the evening spans its steps. */
	readonly arrives: boolean;
	readonly leaves: boolean;
	readonly walkIn: number;
	readonly setUp: number;
	readonly focus: number;
	/** From when there are stars to focus on; undefined where there are none. */
	readonly starsFrom: EpochMs | undefined;
	readonly packUp: number;
	readonly walkOut: number;
	readonly lensChange: number;
	readonly turnBack: number;
	/** How long the drive runs before it is wound back. */
	readonly turnLimit: number | undefined;
	/** In the order of the plan. */
	readonly aligns: readonly AlignTask[];
	readonly targets: readonly SkyTask[];
}

export type StepKind =
	| "walk-in"
	| "set-up"
	| "focus"
	| "align"
	| "test-frame"
	| "re-aim"
	| "lens-change"
	| "turn-back"
	| "sky"
	| "foreground"
	| "darks"
	| "check"
	| "wait"
	| "pack-up"
	| "walk-out";

/** One step of the evening. */
export interface EveningStep extends Interval {
	readonly kind: StepKind;
	/** Place in the plan's targets, or for an alignment in its methods. */
	readonly of?: number;
	/** Whether the plan fixed its time. */
	readonly fixed: boolean;
	/** The last moment to begin it without loss for what is fixed after it; undefined where nothing is. */
	readonly latest?: EpochMs;
	/** Frames that fit, where not all do. */
	readonly frames?: number;
	/** Whether it lies beside what hands do. */
	readonly beside?: true;
}

/** A series that has found its time: place in the tasks, frames that are taken of it. */
export interface PlacedSeries {
	readonly index: number;
	readonly from: EpochMs;
	readonly frames: number;
	readonly fixed: boolean;
}

/** Steps of which one has to begin before the other is done, and by how much, milliseconds. */
export interface Clash {
	readonly before: EveningStep;
	readonly after: EveningStep;
	readonly short: number;
}

/** What found no time. */
export interface LeftOut {
	readonly kind: "sky" | "foreground" | "darks" | "align" | "correction";
	/** Place in the plan's targets, or of a correction in its methods. */
	readonly of: number;
	/** Frames that are left of it; 0: none. */
	readonly frames: number;
}

/** A method in place of the one that aligns. */
export interface Fallback {
	/** Place among the plan's methods. */
	readonly of: number;
	/** The last minute to begin it, without loss for the frames that the latest start of the one that aligns is without loss for. */
	readonly latest: EpochMs;
}

/** The evening in order. */
export interface Evening {
	/** By their beginning. */
	readonly steps: readonly EveningStep[];
	/** Place among the plan's methods of one that corrects the axis between its alignment and the first tracked frame. */
	readonly corrected: number | undefined;
	/** Place among the plan's methods of the one that aligns for the first tracked frame. */
	readonly aligned: number | undefined;
	/** What to do instead where that is not done in time: in the plan's order. */
	readonly fallbacks: readonly Fallback[];
	readonly clashes: readonly Clash[];
	readonly leftOut: readonly LeftOut[];
	/**
	 * Whether the alignment can be done once more before getting ready for the first tracked frame begins, by a method of
	 * the plan as it is; undefined without either, or where frames come first.
	 */
	readonly secondTry: { readonly by: EpochMs; readonly isPossible: boolean } | undefined;
}
