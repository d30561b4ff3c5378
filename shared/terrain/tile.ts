/**
 * Elevation tiles: heights of the ground on a regular grid of latitudes and longitudes, in metres above the geoid, as a
 * plan's elevations are. They know the ground and nothing that stands on it or is hollow in it.
 */

import { isGround } from "../earth/ground.ts";

/** A height that nobody measured. */
export const VOID = -32_768;

export interface Tile {
	/** What the file is called. */
	readonly name: string;
	/** Place of the north-west height, degrees. */
	readonly north: number;
	readonly west: number;
	/** From one height to the next, degrees southward and eastward. */
	readonly latitudeStep: number;
	readonly longitudeStep: number;
	readonly rows: number;
	readonly columns: number;
	/** Row by row from the north, from west to east; metres, or `VOID`. */
	readonly heights: Int16Array | Float32Array;
	/** Heights that no ground has, which became voids. */
	readonly strange?: StrangeHeights | undefined;
}

/** How many heights of a tile no ground has, and the first of them. */
export interface StrangeHeights {
	readonly count: number;
	/** Metres, as the file has it, and its place. */
	readonly height: number;
	readonly latitude: number;
	readonly longitude: number;
}

/** A tile whose heights are something else than metres of ground. */
export interface NoGround extends StrangeHeights {
	readonly code: "no-ground";
	readonly name: string;
	/** Measured heights, these among them. */
	readonly all: number;
}

/**
 * Makes voids of heights that no ground has. Where they are most of the tile's, and not one value that stands for a void,
 * nothing in the tile is to be trusted.
 */
export function groundOnly(tile: Tile): Tile | NoGround {
	const { name, heights, columns } = tile;
	let [count, all, first, differ] = [0, 0, -1, false];
	let height = 0;
	for (let i = 0; i < heights.length; i++) {
		const one = heights[i] as number;
		if (one === VOID) continue;
		all++;
		if (isGround(one)) continue;
		if (first < 0) [first, height] = [i, one];
		differ ||= one !== height;
		count++;
		heights[i] = VOID;
	}
	if (count === 0) return tile;
	const latitude = tile.north - Math.floor(first / columns) * tile.latitudeStep;
	const longitude = tile.west + (first % columns) * tile.longitudeStep;
	const strange = { count, height, latitude, longitude };
	return differ && count > all / 2 ? { code: "no-ground", name, all, ...strange } : { ...tile, strange };
}

/** Void heights in a row, or in a column, that are bridged at most. */
export const BRIDGED = 4;

/**
 * Bridges small voids: each void height between two measured ones, at most `BRIDGED` heights apart in its row or its
 * column, becomes the mean of the straight lines between them. Gives how many were bridged, and how many are left.
 */
export function bridgeVoids({ heights, rows, columns }: Tile): { readonly bridged: number; readonly left: number } {
	const voids: number[] = [];
	for (let i = 0; i < heights.length; i++) if (heights[i] === VOID) voids.push(i);
	// All are found before any is written: what is bridged does not bridge others.
	const filled = voids.map((i) => {
		const row = Math.floor(i / columns);
		const column = i % columns;
		const lines = [lineAt(i, 1, column, columns), lineAt(i, columns, row, rows)].filter((one) => one !== undefined);
		return lines.length === 0 ? VOID : lines.reduce((sum, one) => sum + one, 0) / lines.length;
	});
	for (const [k, i] of voids.entries()) heights[i] = filled[k] as number;
	const left = filled.filter((one) => one === VOID).length;
	return { bridged: voids.length - left, left };

	/** On the line between the nearest measured heights before and after a place; undefined where they are too far apart. */
	function lineAt(place: number, stride: number, index: number, count: number): number | undefined {
		let [before, after] = [1, 1];
		while (before <= BRIDGED && before <= index && heights[place - before * stride] === VOID) before++;
		while (after <= BRIDGED && after < count - index && heights[place + after * stride] === VOID) after++;
		if (before > index || after >= count - index || before + after - 1 > BRIDGED) return undefined;
		const [low, high] = [heights[place - before * stride] as number, heights[place + after * stride] as number];
		return low + ((high - low) * before) / (before + after);
	}
}

/** Height of the ground at a place in degrees, metres, between four heights; undefined outside the tile and at a void. */
export function groundAt(tile: Tile, latitude: number, longitude: number): number | undefined {
	const height = groundBetween(
		tile,
		(tile.north - latitude) / tile.latitudeStep,
		(longitude - tile.west) / tile.longitudeStep,
	);
	return Number.isNaN(height) ? undefined : height;
}

/** Whether a place is on a tile, whatever is known there. */
export const isOn = (tile: Tile, latitude: number, longitude: number): boolean => {
	const row = (tile.north - latitude) / tile.latitudeStep;
	const column = (longitude - tile.west) / tile.longitudeStep;
	return row >= -0.5 && column >= -0.5 && row <= tile.rows - 0.5 && column <= tile.columns - 0.5;
};

/** The same at a row and a column, and parts of them; NaN where it is not known. Bilinear. */
export function groundBetween({ heights, rows, columns }: Tile, row: number, column: number): number {
	// The edge itself belongs to the tile, and half a step beyond it: cells that are areas meet there.
	if (!(row >= -0.5 && column >= -0.5 && row <= rows - 0.5 && column <= columns - 0.5)) return Number.NaN;
	const y = Math.min(Math.max(Math.floor(row), 0), rows - 2);
	const x = Math.min(Math.max(Math.floor(column), 0), columns - 2);
	const at = y * columns + x;
	const a = heights[at] as number;
	const b = heights[at + 1] as number;
	const c = heights[at + columns] as number;
	const d = heights[at + columns + 1] as number;
	if (a === VOID || b === VOID || c === VOID || d === VOID) return Number.NaN;
	const right = Math.min(Math.max(column - x, 0), 1);
	const down = Math.min(Math.max(row - y, 0), 1);
	const upper = a + (b - a) * right;
	return upper + (c + (d - c) * right - upper) * down;
}
