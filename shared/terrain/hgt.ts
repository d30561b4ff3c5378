/**
 * Elevation tiles in the raw form of radar surveys (`.hgt`): a degree each way, named after its south-west corner;
 * big-endian 16-bit whole metres, row by row from the north-west corner, the last row and column shared with the next
 * tile; −32,768 is a void. 1,201 × 1,201 heights are 3″ apart, 3,601 × 3,601 1″; toward the poles some have every other
 * column.
 */
import { isGround } from "../earth/ground.ts";
import { groundOnly, type NoGround, type Tile, VOID } from "./tile.ts";

export type HgtProblem =
	| { readonly code: "no-corner"; readonly name: string }
	| { readonly code: "size"; readonly name: string; readonly bytes: number }
	| {
			readonly code: "swapped";
			readonly name: string;
			/** A height as the format has it, and as it is the other way round, metres. */
			readonly height: number;
			readonly swapped: number;
	  }
	| NoGround;

/** Heights along a side. */
const SIDES = [1201, 3601] as const;
/** Bytes at most. */
export const LARGEST_HGT = 2 * 3601 * 3601;

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
	const height = swappedHeight(heights, columns);
	if (height !== undefined) return { code: "swapped", name, height, swapped: swap(height) };
	return groundOnly({
		name,
		north: corner.south + 1,
		west: corner.west,
		latitudeStep: 1 / (rows - 1),
		longitudeStep: 1 / (columns - 1),
		rows,
		columns,
		heights,
	});
}

/** A height with its two bytes the other way round. */
const swap = (height: number): number => (((height & 0xff) << 24) >> 16) | ((height >> 8) & 0xff);

/** Every so many heights one is looked at, no divisor of a side. */
const EVERY = 7;
/** From here on steps between neighbours are rough, metres: on ground they are less, but for a cliff. */
const ROUGH = 200;

/**
 * A height of a tile whose bytes are the other way round: as they are most are no ground, or neighbours are far apart,
 * and swapped all is well. Undefined where the tile is as it should be.
 */
function swappedHeight(heights: Int16Array, columns: number): number | undefined {
	let [known, strange, strangeSwapped, looked, steps, rough, roughSwapped] = [0, 0, 0, 0, 0, 0, 0];
	let example = 0;
	for (let i = 0; i + 1 < heights.length; i += EVERY) {
		const [one, next] = [heights[i] as number, heights[i + 1] as number];
		const [oneSwapped, nextSwapped] = [swap(one), swap(next)];
		if (one === VOID || oneSwapped === VOID) continue;
		looked++;
		// The sea is 0 either way.
		if (one !== 0) known++;
		if (!isGround(one)) {
			strange++;
			if (example === 0 && isGround(oneSwapped)) example = one;
		}
		if (!isGround(oneSwapped)) strangeSwapped++;
		if (one === next || next === VOID || nextSwapped === VOID || i % columns === columns - 1) continue;
		steps++;
		rough += Math.abs(next - one);
		roughSwapped += Math.abs(nextSwapped - oneSwapped);
	}
	const isStrange = strange > known / 2 && strangeSwapped < strange / 100;
	const isRough = steps > looked / 100 && rough > ROUGH * steps && roughSwapped < rough / 8;
	if (!isStrange && !isRough) return undefined;
	return example !== 0 ? example : heights.find((one) => one !== 0 && one !== VOID);
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
