/** In which order marks that pass at moments of their own are offered, where no frame has a time to be ready for. */
import type { PlacedTarget } from "../cells/targets/target.ts";
import type { EpochMs } from "../earth/zone.ts";
import { beginAt, doneAt, minutesTaken } from "../methods/before-frames.ts";
import { type MethodContent, methodOf } from "../methods/methods.ts";
import type { Tonight } from "../methods/tonight.ts";
import { both, either, type Interval, totalMinutes } from "../sky/intervals.ts";

/** Minutes that a better mark may cost. Common practice, no source. */
const ABOUT_AS_MANY = 15;

/** What is left of windows from a moment on. */
export const onFrom = (windows: readonly Interval[], from: EpochMs): readonly Interval[] =>
	both(windows, [{ from, until: Number.POSITIVE_INFINITY }]);

/** Targets with their places in the plan's list. */
export type Listed = readonly { readonly target: PlacedTarget; readonly index: number }[];

/** Of the targets those of the sky: a frame of the ground needs none, any minute would do. */
export const ofTheSky = (placed: readonly (PlacedTarget | undefined)[]): Listed =>
	placed.flatMap((target, index) => (target?.ofTheSky ? [{ target, index }] : []));

/** What a night is for: what one aligns for; an untracked frame could be taken on many others. */
export function whatFor(known: Listed): Listed {
	const tracked = known.filter(({ target }) => target.tracked);
	return tracked.length > 0 ? tracked : known;
}

/** When any of what a night is for is usable; undefined without targets. */
export function usableFor(placed: readonly (PlacedTarget | undefined)[]): readonly Interval[] | undefined {
	const targets = whatFor(ofTheSky(placed));
	return targets.length === 0 ? undefined : targets.map(({ target }) => target.usable).reduce(either);
}

/** Minutes that a method takes as its cell has it. */
export const minutesOf = (content: MethodContent): number =>
	content.kind ? minutesTaken(content, methodOf(content.kind).takes(content)) : 0;

/**
 * Frames begin when the alignment is done: marks that leave about as many usable minutes as any keep their order and come
 * first, then the others, those that leave more before those that leave fewer; those that pass before one is ready last.
 */
export function mostLeftFirst<M extends { readonly at: EpochMs }>(
	found: readonly M[],
	windows: readonly Interval[],
	content: MethodContent,
	{ ready }: Tonight,
): readonly M[] {
	const takes = minutesOf(content);
	const left = ({ at }: M): number =>
		beginAt(at, takes) < ready ? -1 : totalMinutes(onFrom(windows, doneAt(at, takes)));
	const all = found.map((mark) => ({ mark, minutes: left(mark) }));
	const enough = Math.max(0, Math.max(...all.map(({ minutes }) => minutes)) - ABOUT_AS_MANY);
	return [
		...all.filter(({ minutes }) => minutes >= enough),
		...all.filter(({ minutes }) => minutes < enough).sort((a, b) => b.minutes - a.minutes),
	].map(({ mark }) => mark);
}
