/** Outlines on the sky, as they are measured: corners by true bearing and altitude, edges straight between them. */
import type { Direction } from "./horizontal.ts";
import { halfTurn } from "./vector.ts";

/** A point of a skyline or an outline: true bearing and altitude, degrees. */
export type SkyPoint = readonly [bearing: number, altitude: number];

/** An outline, closed from its last corner to its first, either way round. */
export interface Outline {
	/** As they were written. */
	readonly points: readonly SkyPoint[];
	/**
	 * The same with bearings that run on, so that north cuts nothing: each edge goes the short way round. Where the
	 * outline goes once round the sky it holds the zenith, and is closed above it.
	 */
	readonly corners: readonly SkyPoint[];
	/** Least and greatest bearing of the corners. */
	readonly span: readonly [from: number, until: number];
}

/** Nothing stands higher: edges up here are outside the sky. */
const ABOVE_ALL = 91;
/** A corner this high has no bearing: its edges go straight up from its neighbours. */
const AT_ZENITH = 89.999;

/** The outline of corners in their order. */
export function outlineOf(points: readonly SkyPoint[]): Outline {
	const corners: SkyPoint[] = [];
	const add = (bearing: number, altitude: number): void => {
		const before = corners.at(-1);
		corners.push([before ? before[0] + halfTurn(bearing - before[0]) : bearing, altitude]);
	};
	points.forEach(([bearing, altitude], i) => {
		if (altitude < AT_ZENITH) {
			add(bearing, altitude);
			return;
		}
		const [before, after] = [points.at(i - 1), points[(i + 1) % points.length]];
		if (before && before[1] < AT_ZENITH) add(before[0], ABOVE_ALL);
		if (after && after[1] < AT_ZENITH) add(after[0], ABOVE_ALL);
	});
	const [first, last] = [corners[0], corners.at(-1)];
	if (first && last) {
		const home = last[0] + halfTurn(first[0] - last[0]);
		if (Math.abs(home - first[0]) > 1) corners.push([home, first[1]], [home, ABOVE_ALL], [first[0], ABOVE_ALL]);
	}
	const bearings = corners.map(([bearing]) => bearing);
	return { points, corners, span: [Math.min(...bearings), Math.max(...bearings)] };
}

/** Whether a direction lies within an outline. */
export function isWithin({ corners, span: [from, until] }: Outline, { azimuth, altitude }: Direction): boolean {
	// The same direction may be met on several turns of an outline that goes round.
	for (let x = azimuth + 360 * Math.ceil((from - azimuth) / 360); x <= until; x += 360)
		if (isEnclosed(corners, x, altitude)) return true;
	return false;
}

function isEnclosed(corners: readonly SkyPoint[], x: number, y: number): boolean {
	let inside = false;
	let [x1, y1] = corners[corners.length - 1] as SkyPoint;
	for (const [x2, y2] of corners) {
		if (y1 > y !== y2 > y && x < x1 + ((y - y1) / (y2 - y1)) * (x2 - x1)) inside = !inside;
		[x1, y1] = [x2, y2];
	}
	return inside;
}

/**
 * Two edges of an outline that cross, each by the number of the corner it begins at, counted from 0; undefined where
 * none do. Corners that were put in above the zenith do not count.
 */
export function edgesThatCross({ points }: Outline): readonly [number, number] | undefined {
	const bearings: number[] = [];
	for (const [bearing] of points) {
		const before = bearings.at(-1);
		bearings.push(before === undefined ? bearing : before + halfTurn(bearing - before));
	}
	const edges = points.map(([, altitude], i): readonly [number, number, number, number] => {
		const x = bearings[i] as number;
		const next = (i + 1) % points.length;
		return [x, altitude, x + halfTurn((bearings[next] as number) - x), (points[next] as SkyPoint)[1]];
	});
	const isReal = ([, y1, , y2]: readonly number[]): boolean => (y1 as number) < AT_ZENITH && (y2 as number) < AT_ZENITH;
	for (const [i, a] of edges.entries()) {
		if (!isReal(a)) continue;
		for (let j = i + 2; j < edges.length; j++) {
			const b = edges[j] as readonly [number, number, number, number];
			if (!isReal(b) || (i === 0 && j === edges.length - 1)) continue;
			for (const by of [-360, 0, 360]) if (cross(a, [b[0] + by, b[1], b[2] + by, b[3]])) return [i, j];
		}
	}
	return undefined;
}

type Edge = readonly [x1: number, y1: number, x2: number, y2: number];

/** Whether two edges cross at a place inside both. */
function cross(a: Edge, b: Edge): boolean {
	const side = ([x1, y1, x2, y2]: Edge, x: number, y: number): number => (x2 - x1) * (y - y1) - (y2 - y1) * (x - x1);
	return side(a, b[0], b[1]) * side(a, b[2], b[3]) < 0 && side(b, a[0], a[1]) * side(b, a[2], a[3]) < 0;
}
