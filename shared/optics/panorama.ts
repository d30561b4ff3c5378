/** The panorama that a set of directions needs: level rows of frames, all with as many columns. Angles in degrees. */
import { type Direction, toVector } from "../sky/horizontal.ts";
import { cross, dot, halfTurn, RAD, unit, type Vector } from "../sky/vector.ts";
import { type Camera, fieldAcross, pointOf } from "./camera.ts";
import { MOST_COLUMNS, MOST_ROWS } from "./panorama-rows.ts";

export interface PanoramaGrid {
	readonly columns: number;
	readonly rows: number;
	/** Bearings of its columns, left to right, and altitudes of its rows, from below. */
	readonly bearings: readonly number[];
	readonly altitudes: readonly number[];
}

/** How far within what is to be covered the outer frames are, shares of half a frame. */
const INSETS = [0.8, 0.5, 0.2];

/**
 * The fewest rows that overlap by a share of the frame's height, and of them the fewest columns, such that every
 * direction lies within a frame, half an overlap from its edge, and that the columns overlap by the same share in the
 * lowest row: neighbours there are (1 − overlap) · width / cos(altitude) of bearing apart, the altitude being the one
 * nearest the horizon. Undefined where that takes more frames than anyone takes.
 */
export function panoramaFor(
	directions: readonly Direction[],
	camera: Camera,
	portrait: boolean,
	overlap: number,
): PanoramaGrid | undefined {
	const [first] = directions;
	if (!first) return undefined;
	const [width, height] = portrait ? [camera.sensor[1], camera.sensor[0]] : camera.sensor;
	const [across, high] = [fieldAcross(camera, width), fieldAcross(camera, height)];
	// Bearings are counted from the middle of the list: none is more than half a turn from it.
	const middle = (directions[directions.length >> 1] ?? first).azimuth;
	const offsets = directions.map(({ azimuth }) => halfTurn(azimuth - middle));
	const heights = directions.map(({ altitude }) => altitude);
	const [west, east, low, top] = [
		Math.min(...offsets),
		Math.max(...offsets),
		Math.min(...heights),
		Math.max(...heights),
	];
	const covers = ({ bearings, altitudes: rows }: PanoramaGrid): boolean => {
		const frames = rows.flatMap((altitude) => bearings.map((azimuth) => axesOf({ azimuth, altitude })));
		return directions.every((direction) => {
			const v = toVector(direction);
			return frames.some(([right, up, forward]) => {
				const point = dot(v, forward) > 0 ? pointOf(camera, [dot(v, right), dot(v, up), dot(v, forward)]) : undefined;
				return (
					point !== undefined &&
					Math.abs(point[0]) <= (width / 2) * (1 - overlap / 2) &&
					Math.abs(point[1]) <= (height / 2) * (1 - overlap / 2)
				);
			});
		});
	};
	const leastRows = steps(top - low - high * (1 - overlap / 2), high * (1 - overlap));
	for (let rows = leastRows; rows <= MOST_ROWS; rows++) {
		for (let columns = 1; columns <= MOST_COLUMNS; columns++) {
			for (const inset of INSETS) {
				const altitudes = inside(low, top, (inset * high) / 2, rows);
				const nearest = Math.min(...altitudes.map(Math.abs), 80);
				const step = (across * (1 - overlap)) / Math.cos(nearest * RAD);
				for (const beside of INSETS) {
					const bearings = inside(west, east, (beside * across) / 2, columns);
					const [one = 0, next = one] = bearings;
					if (next - one > step) continue;
					const grid = { columns, rows, bearings: bearings.map((offset) => middle + offset), altitudes };
					if (covers(grid)) return grid;
				}
			}
			// More columns do not help what is missing above or below.
			if (columns * across * (1 - overlap) > 2 * 360) break;
		}
	}
	return undefined;
}

/** How many frames reach over an angle beyond the first, one a step. */
const steps = (angle: number, step: number): number => 1 + Math.max(0, Math.ceil(angle / step - 1e-9));

/** Numbers spread evenly between two that lie within others; their middle where there is no room. */
function inside(from: number, until: number, inset: number, count: number): readonly number[] {
	const edge = Math.min(inset, (until - from) / 2);
	return spread(from + edge, until - edge, count);
}

/** Numbers spread evenly from one to another; the middle where it is one. */
const spread = (from: number, until: number, count: number): readonly number[] =>
	Array.from({ length: count }, (_, i) =>
		count === 1 ? (from + until) / 2 : from + ((until - from) * i) / (count - 1),
	);

/** Right, up and forward of a level camera. */
function axesOf(direction: Direction): readonly [Vector, Vector, Vector] {
	const forward = toVector({ ...direction, altitude: Math.min(direction.altitude, 89.9) });
	const right = unit(cross(forward, [0, 0, 1]));
	return [right, cross(right, forward), forward];
}
