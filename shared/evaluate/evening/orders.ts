/** In which order targets without times of their own are taken. */
import type { EpochMs } from "../../earth/zone.ts";
import type { Interval } from "../../sky/intervals.ts";
import type { Timeline } from "./timeline.ts";

/** A target that needs a place: lengths in milliseconds. */
interface ToPlace {
	/** For which hands are taken. */
	readonly length: number;
	readonly lead: number;
	/** A camera that runs by itself takes one series at a time, each so long; hands are free meanwhile. */
	readonly runs?: { readonly camera: string; readonly length: number } | undefined;
	readonly windows: readonly Interval[];
	readonly notBefore: EpochMs;
	/** How much it is worth to have it: its frames. */
	readonly worth: number;
}

export interface Placing {
	readonly timeline: Timeline;
	readonly of: (index: number) => ToPlace;
}

interface Placed {
	/** When each that fits begins. */
	readonly starts: ReadonlyMap<number, EpochMs>;
	readonly worth: number;
}

/** Of more targets than this only the plan's order and that of their leaving the view are tried. */
const MOST_TRIED = 7;

/** When each that fits begins: in the plan's order if all fit so; else in that of leaving the view; else in whatever order most frames fit. */
export function placedInAnyOrder(indices: readonly number[], placing: Placing): Placed["starts"] {
	const inPlan = placedInOrder(indices, placing);
	if (inPlan.starts.size === indices.length) return inPlan.starts;
	const leaving = (index: number): EpochMs => placing.of(index).windows.at(-1)?.until ?? Number.POSITIVE_INFINITY;
	const byLeaving = placedInOrder(
		[...indices].sort((a, b) => leaving(a) - leaving(b)),
		placing,
	);
	if (byLeaving.starts.size === indices.length) return byLeaving.starts;
	const best = byLeaving.worth > inPlan.worth ? byLeaving : inPlan;
	if (indices.length > MOST_TRIED) return best.starts;
	const tried = mostOf(indices, placing);
	return (tried.worth > best.worth ? tried : best).starts;
}

/**
 * Each as early as there is room after the one before it on its camera; what does not fit is passed over. While a camera
 * runs by itself hands are free for the others.
 */
function placedInOrder(indices: readonly number[], { timeline, of }: Placing): Placed {
	const all = indices.map((index) => ({ index, one: of(index) }));
	const hands = all.some(({ one }) => one.runs) ? timeline.copy() : timeline;
	const after = new Map<string | undefined, EpochMs>();
	const starts = new Map<number, EpochMs>();
	let worth = 0;
	for (const { index, one } of all) {
		const { length, lead, windows, notBefore, runs } = one;
		const free = Math.max(notBefore, after.get(runs?.camera) ?? Number.NEGATIVE_INFINITY);
		const from = hands.first(length, windows, free, lead);
		if (from === undefined) continue;
		starts.set(index, from);
		after.set(runs?.camera, from + (runs?.length ?? length));
		if (hands !== timeline) hands.take({ from: from - lead, until: from + length });
		worth += one.worth;
	}
	return { starts, worth };
}

/** When the camera that takes it by itself is done with what it runs. */
const runningUntil = ({ runs }: ToPlace, running: ReadonlyMap<string, EpochMs>): EpochMs =>
	(runs && running.get(runs.camera)) ?? Number.NEGATIVE_INFINITY;

/** A set of targets in an order. */
interface Ordered {
	/** When hands are free. */
	readonly done: EpochMs;
	/** When each camera is that runs by itself. */
	readonly runs: ReadonlyMap<string, EpochMs>;
	readonly order: readonly number[];
	readonly worth: number;
}

/**
 * Exactly the most: by sets of targets, the order in which a set is done first. A set that is done earlier leaves at least
 * as much room to all that may follow (of cameras that run by themselves it is the plan's order that counts).
 */
function mostOf(indices: readonly number[], placing: Placing): Placed {
	const all = indices.map((index) => ({ index, ...placing.of(index) }));
	const sets = new Map<number, Ordered>([
		[0, { done: Number.NEGATIVE_INFINITY, runs: new Map(), order: [], worth: 0 }],
	]);
	for (let set = 0; set < 1 << all.length; set++) {
		const known = sets.get(set);
		if (!known) continue;
		for (const [i, one] of all.entries()) {
			if (set & (1 << i)) continue;
			const { index, length, windows, notBefore, lead, worth, runs } = one;
			const free = Math.max(notBefore, known.done, runningUntil(one, known.runs));
			const from = placing.timeline.first(length, windows, free, lead);
			if (from === undefined) continue;
			const next = sets.get(set | (1 << i));
			if (next && next.done <= from + length) continue;
			sets.set(set | (1 << i), {
				done: from + length,
				runs: runs ? new Map(known.runs).set(runs.camera, from + runs.length) : known.runs,
				order: [...known.order, index],
				worth: known.worth + worth,
			});
		}
	}
	let best = sets.get(0) as { order: readonly number[]; worth: number };
	for (const one of sets.values()) if (one.worth > best.worth) best = one;
	return placedInOrder(best.order, placing);
}
