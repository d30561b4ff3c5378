/**
 * Elevation tiles in the raw form of radar surveys (`.hgt`): a degree each way, named after its south-west corner;
 * big-endian 16-bit whole metres, row by row from the north-west corner, the last row and column shared with the next
 * tile; −32,768 is a void. 1,201 × 1,201 heights are 3″ apart, 3,601 × 3,601 1″; toward the poles some have every other
 * column.
 */
import type { Tile } from "./tile.ts";

export type HgtProblem =
	| { readonly code: "no-corner"; readonly name: string }
	| { readonly code: "size"; readonly name: string; readonly bytes: number };

/** Heights along a side. */
const SIDES = [1201, 3601] as const;

/** A tile of a file's name and bytes. */
export function readHgt(name: string, bytes: Uint8Array): Tile | HgtProblem {
	const corner = cornerOf(name);
	if (!corner) return { code: "no-corner", name };
	const rows = SIDES.find((side) => [side, (side + 1) / 2].some((columns) => 2 * side * columns === bytes.length));
	if (rows === undefined) return { code: "size", name, bytes: bytes.length };
	const columns = bytes.length / 2 / rows;
	const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
	const heights = new Int16Array(rows * columns);
	for (let i = 0; i < heights.length; i++) heights[i] = view.getInt16(2 * i);
	return {
		name,
		north: corner.south + 1,
		west: corner.west,
		latitudeStep: 1 / (rows - 1),
		longitudeStep: 1 / (columns - 1),
		rows,
		columns,
		heights,
	};
}

/** The south-west corner that a tile's name says: `S33E020.hgt`. */
export function cornerOf(name: string): { readonly south: number; readonly west: number } | undefined {
	const parts = /(?:^|[\\/])([NS])(\d{2})([EW])(\d{3})[^\\/]*$/i.exec(name);
	if (!parts) return undefined;
	const [, ns = "", latitude = "", ew = "", longitude = ""] = parts;
	const south = /s/i.test(ns) ? -Number(latitude) : Number(latitude);
	const west = /w/i.test(ew) ? -Number(longitude) : Number(longitude);
	return south >= -90 && south < 90 && west >= -180 && west < 180 ? { south, west } : undefined;
}

/** The name of the tile that holds a place: `S33E020`. */
export function tileNameAt(latitude: number, longitude: number): string {
	const south = Math.floor(latitude);
	const west = Math.floor(longitude);
	const part = (value: number, digits: number): string => String(Math.abs(value)).padStart(digits, "0");
	return `${south < 0 ? "S" : "N"}${part(south, 2)}${west < 0 ? "W" : "E"}${part(west, 3)}`;
}
