/** Elevation tiles of their names and bytes, and what is wrong with those that are none. */
import { HIGHEST_GROUND, LOWEST_GROUND } from "../../shared/earth/ground.ts";
import { coordinateText } from "../../shared/notation/coordinate.ts";
import { RAD, turn } from "../../shared/sky/vector.ts";
import type { GeoTiffProblem } from "../../shared/terrain/geotiff.ts";
import { cornerOf, type HgtProblem, LARGEST_HGT, readHgt } from "../../shared/terrain/hgt.ts";
import type { StrangeHeights, Tile } from "../../shared/terrain/tile.ts";
import { type Phrase, sentences } from "../../shared/text/sentence.ts";

const words = sentences("ground.tile", {
	noCorner: `{path}: the name of a .hgt file gives its position, such as N46E008.hgt for 46° to 47° N and 8° to 9° E;
		this one does not`,
	size: `{path}: {bytes} bytes are not a .hgt tile, which has 1,201 × 1,201 or 3,601 × 3,601 heights of two bytes.
		The download may be incomplete`,
	sizeOver: `{path}: {bytes} bytes are more than a .hgt tile has: 3,601 × 3,601 heights of two bytes at most. It is in
		another format, or finer; Lodebook could read it as GeoTIFF`,
	swapped: `{path}: its heights have their two bytes the other way round: {height} m should be {swapped} m. A .hgt tile has
		the high byte first; swap the bytes, or fetch it from elsewhere`,
	noGround: `{path}: {count} of its {all} heights are not from {low} to {high} m, as ground is: {height} m at {latitude},
		{longitude}. It may be damaged, or hold something other than metres of height`,
	unreadable: "{path}: it cannot be read as GeoTIFF: {why}",
	short: "{path}: it ends too early; the download may be incomplete",
	projected: `{path}: its coordinates are not latitude and longitude in degrees. Convert it first, for example with
		gdalwarp -t_srs EPSG:4326`,
	notPlaced: "{path}: it does not give its position, or north is not up in it",
	tooLarge: "{path}: {rows} × {columns} heights are too many; cut out the part you need",
	tooSmall: "{path}: {rows} × {columns} heights are too few for a tile",
	incomplete: "{path}: some of its {rows} × {columns} heights are missing; the download may be incomplete",
});

/** Whole metres. */
const metresText = (height: number): string => Math.round(height).toLocaleString("en").replace("-", "−");

/** A height that no ground has, and its place. */
export const strangeText = ({ height, latitude, longitude }: StrangeHeights) => ({
	height: metresText(height),
	latitude: coordinateText(Math.round(latitude * 1e4) / 1e4, "latitude"),
	longitude: coordinateText(Math.round(longitude * 1e4) / 1e4, "longitude"),
});

/** A tile, or why it is none; `.tif` is GeoTIFF, everything else `.hgt`. */
export async function tileOf(path: string, bytes: Uint8Array): Promise<Tile | Phrase> {
	const tile = /\.tiff?$/i.test(path)
		? await (await import("../../shared/terrain/geotiff.ts")).readGeoTiff(path, bufferOf(bytes))
		: readHgt(path, bytes);
	return "code" in tile ? phraseOf(tile, path) : tile;
}

const bufferOf = ({ buffer, byteOffset, byteLength }: Uint8Array): ArrayBuffer =>
	buffer.slice(byteOffset, byteOffset + byteLength) as ArrayBuffer;

/** A degree of latitude or longitude is nowhere longer. */
const METRES_PER_DEGREE = 100_000;

/** Whether what is so many degrees away is within a reach, metres. */
export const isWithin = (away: number, reach: number): boolean => away * METRES_PER_DEGREE <= reach;

/** How far a tile's nearest edge is away at least, degrees of latitude, by its name; 0 where that does not say. */
export function degreesAway(path: string, { latitude, longitude }: { latitude: number; longitude: number }): number {
	const corner = /\.hgt/i.test(path) ? cornerOf(path) : undefined;
	if (!corner) return 0;
	const beyond = (value: number, from: number): number => Math.max(from - value, value - from - 1, 0);
	const east = turn(longitude - corner.west);
	const across = Math.min(Math.max(east - 1, 0), 360 - east);
	// Nearer the pole than the place a degree of longitude is shorter still.
	const highest = Math.min(89, Math.max(Math.abs(corner.south), Math.abs(corner.south + 1), Math.abs(latitude)));
	return Math.hypot(beyond(latitude, corner.south), across * Math.cos(highest * RAD));
}

function phraseOf(problem: HgtProblem | GeoTiffProblem, path: string): Phrase {
	switch (problem.code) {
		case "no-corner":
			return words.noCorner({ path });
		case "size":
			return (problem.bytes > LARGEST_HGT ? words.sizeOver : words.size)({
				path,
				bytes: problem.bytes.toLocaleString("en"),
			});
		case "swapped":
			return words.swapped({ path, height: metresText(problem.height), swapped: metresText(problem.swapped) });
		case "no-ground":
			return words.noGround({
				path,
				count: problem.count.toLocaleString("en"),
				all: problem.all.toLocaleString("en"),
				low: metresText(LOWEST_GROUND),
				high: metresText(HIGHEST_GROUND),
				...strangeText(problem),
			});
		case "unreadable":
			return words.unreadable({ path, why: problem.why });
		case "short":
			return words.short({ path });
		case "projected":
			return words.projected({ path });
		case "not-placed":
			return words.notPlaced({ path });
		case "incomplete":
			return words.incomplete({ path, rows: problem.rows, columns: problem.columns });
		case "too-large":
			return words.tooLarge({ path, rows: problem.rows, columns: problem.columns });
		case "too-small":
			return words.tooSmall({ path, rows: problem.rows, columns: problem.columns });
	}
}
