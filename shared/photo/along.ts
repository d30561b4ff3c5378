/**
 * What was traced in a photo as directions. A straight line of a photo is bent in bearing and altitude: points are put in
 * where a plan's straight lines would leave it.
 */
import { halfTurn, RAD } from "../sky/vector.ts";
import type { Attitude, PhotoDirection } from "./attitude.ts";

/** Pixels from the upper left corner. */
export type PhotoPlace = readonly [x: number, y: number];

/** A place at which the lens shows nothing, by its number from 0. */
export interface NothingThere {
	readonly code: "no-sky";
	readonly index: number;
}

/** Halvings of one line at most. */
const DEEPEST = 7;

/**
 * Directions along the lines between places of a photo, in their order, so close that lines that are straight in bearing
 * and altitude keep within `tolerance` degrees of them. `closed`: the last line goes back to the first place.
 */
export function directionsAlong(
	{ at }: Pick<Attitude, "at">,
	places: readonly PhotoPlace[],
	tolerance: number,
	closed: boolean,
): readonly PhotoDirection[] | NothingThere {
	const corners: PhotoDirection[] = [];
	for (const [index, [x, y]] of places.entries()) {
		const seen = at(x, y);
		if (!seen) return { code: "no-sky", index };
		corners.push(seen);
	}
	const along: PhotoDirection[] = [];
	const between = (from: Seen, to: Seen, depth: number): void => {
		const parts = [0.25, 0.5, 0.75].map((part) => ({ part, seen: seenAt(mixed(from.place, to.place, part)) }));
		const [, middle] = parts;
		const leaves = parts.some(({ part, seen }) => seen && offLine(from.seen, to.seen, part, seen.seen) > tolerance);
		if (!leaves || !middle?.seen || depth === DEEPEST) return;
		between(from, middle.seen, depth + 1);
		along.push(middle.seen.seen);
		between(middle.seen, to, depth + 1);
	};
	const seenAt = (place: PhotoPlace): Seen | undefined => {
		const seen = at(...place);
		return seen && { place, seen };
	};
	for (const [i, place] of places.entries()) {
		const from = { place, seen: corners[i] as PhotoDirection };
		along.push(from.seen);
		const next = i + 1 < places.length ? i + 1 : 0;
		if (next > 0 || closed)
			between(from, { place: places[next] as PhotoPlace, seen: corners[next] as PhotoDirection }, 0);
	}
	return along;
}

interface Seen {
	readonly place: PhotoPlace;
	readonly seen: PhotoDirection;
}

const mixed = ([x1, y1]: PhotoPlace, [x2, y2]: PhotoPlace, part: number): PhotoPlace => [
	x1 + part * (x2 - x1),
	y1 + part * (y2 - y1),
];

/** How far a direction is from the same part of a line that is straight in bearing and altitude, degrees. */
function offLine(from: PhotoDirection, to: PhotoDirection, part: number, seen: PhotoDirection): number {
	const wide = Math.cos(seen.altitude * RAD);
	const step = [halfTurn(to.bearing - from.bearing) * wide, to.altitude - from.altitude] as const;
	const off = [halfTurn(seen.bearing - from.bearing) * wide, seen.altitude - from.altitude] as const;
	const long = Math.hypot(...step);
	// From the line itself: how the places along it are spaced does not matter.
	if (long < 1e-9) return Math.hypot(off[0] - part * step[0], off[1] - part * step[1]);
	return Math.abs(off[0] * step[1] - off[1] * step[0]) / long;
}
