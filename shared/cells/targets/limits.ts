/** How long a frame of a target may be, how its stars trail, and why. */
import { NO_BIAS } from "../../alignment/axis-error.ts";
import { holdsFor, longestExposure, WANTED_CHANCE } from "../../alignment/longest-exposure.ts";
import {
	type AxisSpread,
	driveTrail,
	fieldRotation,
	ON_POLE,
	type TrailParts,
	type Trails,
	trailAtCentre,
	trailFor,
	trailsOf,
	worstStar,
} from "../../alignment/trail.ts";
import { chancesAbove, greatestQuantile, isSurelyWithin } from "../../alignment/trail-chance.ts";
import { lazily } from "../../memory/memory.ts";
import { type Frames, NEARLY_ALL, type TimedFrame } from "./frames.ts";
import type { TargetEntry } from "./keys.ts";

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

/** A target as far as its limits mind it. */
interface Limited {
	readonly entry: TargetEntry;
	readonly tracked: boolean;
	readonly trailLimit: number;
}

/** What a target's frames allow with an axis that is off by chance; undefined `spread`: not known how far. */
export function limitsOf(
	{ tracked, trailLimit, entry }: Limited,
	framed: Frames,
	spread: AxisSpread | undefined,
): TargetLimits {
	const { exposure, frames, trails, floor } = framed;
	const quantile = (share: number) =>
		tracked ? (spread ? greatestQuantile(trails(), spread, share) : Number.NaN) : floor();
	const chances = lazily(() => (spread ? chancesAbove(trails(), spread, trailLimit) : []));
	const chance = lazily(() =>
		tracked ? (spread ? Math.min(...chances()) : Number.NaN) : floor() <= trailLimit ? 1 : 0,
	);
	/** A frame may be the least sure at the planned exposure and another at the longest: each frame has its say. */
	const longest = lazily(() => (tracked && spread ? longestOfAll(trails(), spread, trailLimit, chances()) : undefined));
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
			return first && trailAtCentre(first, spread?.bias ?? NO_BIAS);
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
			if (!first || first.swings.phases === 1) return undefined;
			return { median: driveTrail(first, 0.5), most: driveTrail(first, NEARLY_ALL) };
		},
		get isSure() {
			if (!tracked || !spread) return chance() >= WANTED_CHANCE;
			return (
				trails().every((one) => isSurelyWithin(one, spread, trailLimit, WANTED_CHANCE)) || chance() >= WANTED_CHANCE
			);
		},
		get gap() {
			const [first] = frames();
			return trailFor(trailsOf(first, entry.gap ?? 0), NO_BIAS);
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
export function longestOfAll(
	all: readonly Trails[],
	spread: AxisSpread,
	limit: number,
	chances: readonly number[],
): number {
	const [first, ...others] = all
		.map((trails, i) => ({ trails, chance: chances[i] ?? 0 }))
		.sort((a, b) => a.chance - b.chance)
		.map(({ trails }) => trails);
	const longestOf = (trails: Trails): number => longestExposure(trails.frame, spread, limit, WANTED_CHANCE, trails);
	let longest = first ? longestOf(first) : 0;
	for (const trails of others)
		if (!holdsFor(trails, spread, limit, longest)) longest = Math.min(longest, longestOf(trails));
	return longest;
}
