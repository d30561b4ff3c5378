/** Elevation tiles on disk: which there are, and each loaded when it is its turn. */
import { readdirSync, readFileSync, statSync } from "node:fs";
import { basename, join } from "node:path";
import { gunzipSync } from "node:zlib";
import { RAD, turn } from "../shared/sky/vector.ts";
import type { GeoTiffProblem } from "../shared/terrain/geotiff.ts";
import { cornerOf, type HgtProblem, readHgt } from "../shared/terrain/hgt.ts";
import type { TileSource } from "../shared/terrain/survey.ts";
import type { Tile } from "../shared/terrain/tile.ts";
import { sentences, told } from "../shared/text/sentence.ts";
import { CannotRun, reading } from "./files.node.ts";

const words = sentences("command.terrain", {
	missing: "{path}: there is no such file or folder",
	none: "{path}: the folder holds no elevation tile, no file that ends in .hgt, .hgt.gz, .tif or .tiff",
	notFile: "{path}: it is not a file",
	otherEnding: "{path}: an elevation tile ends in .hgt, .hgt.gz, .tif or .tiff",
	large: "{path}: it has {size} MB; a tile may have {limit} MB. Cut out the part you need",
	noCorner: `{path}: the name of a .hgt file says where it lies, such as N46E008.hgt for 46° to 47° N and 8° to 9° E; this one's
		does not`,
	size: `{path}: {bytes} bytes are no .hgt tile: it has 1,201 × 1,201 or 3,601 × 3,601 heights of two bytes. The file may
		not have been fetched whole`,
	unreadable: "{path}: it cannot be read as GeoTIFF: {why}",
	projected: `{path}: its coordinates are not latitude and longitude in degrees. Convert it first, for example with
		gdalwarp -t_srs EPSG:4326`,
	notPlaced: "{path}: it does not say where it lies, or north is not up in it",
	tooLarge: "{path}: {rows} × {columns} heights are too many; cut out the part you need",
	tooSmall: "{path}: {rows} × {columns} heights are no tile",
	incomplete: "{path}: not all of its {rows} × {columns} heights are there; it may not have been fetched whole",
	notGzip: "{path}: it cannot be unpacked; it may not have been fetched whole",
});

/** Bytes of a tile at most: 1″ over a degree in floating numbers has 52 MB. */
const LARGEST_TILE = 250_000_000;
const MEGABYTE = 1_000_000;
const LARGEST_HGT = 2 * 3601 * 3601;

const ENDINGS = /\.(?:hgt(?:\.gz)?|tiff?)$/i;

/** The tiles of files and folders that may lie within a reach of a place, degrees and metres, the nearest first. */
export function tilesOf(
	paths: readonly string[],
	place: { readonly latitude: number; readonly longitude: number },
	reach: number,
): readonly TileSource[] {
	const files = paths.flatMap((path) => {
		const kind = reading(path, () => statSync(path, { throwIfNoEntry: false }));
		if (!kind) throw new CannotRun(told(words.missing({ path })));
		if (!kind.isDirectory()) return [path];
		const inside = reading(path, () => readdirSync(path))
			.filter((name) => ENDINGS.test(name))
			.map((name) => join(path, name));
		if (inside.length === 0) throw new CannotRun(told(words.none({ path })));
		return inside;
	});
	return files
		.map((path) => ({ path, away: degreesAway(path, place) }))
		.filter(({ away }) => away * METRES_PER_DEGREE <= reach)
		.sort((a, b) => a.away - b.away || (a.path < b.path ? -1 : 1))
		.map(({ path }) => ({ load: () => loadTile(path) }));
}

/** A degree of latitude or longitude is nowhere longer. */
const METRES_PER_DEGREE = 100_000;

/** How far a tile's nearest edge is away at least, degrees of latitude, by its name; 0 where that does not say. */
function degreesAway(path: string, { latitude, longitude }: { latitude: number; longitude: number }): number {
	const corner = /\.hgt/i.test(path) ? cornerOf(basename(path)) : undefined;
	if (!corner) return 0;
	const beyond = (value: number, from: number): number => Math.max(from - value, value - from - 1, 0);
	const east = turn(longitude - corner.west);
	const across = Math.min(Math.max(east - 1, 0), 360 - east);
	// Nearer the pole than the place a degree of longitude is shorter still.
	const highest = Math.min(89, Math.max(Math.abs(corner.south), Math.abs(corner.south + 1), Math.abs(latitude)));
	return Math.hypot(beyond(latitude, corner.south), across * Math.cos(highest * RAD));
}

async function loadTile(path: string): Promise<Tile> {
	const size = sizeOf(path);
	if (size > LARGEST_TILE)
		throw new CannotRun(told(words.large({ path, size: Math.ceil(size / MEGABYTE), limit: LARGEST_TILE / MEGABYTE })));
	if (!ENDINGS.test(path)) throw new CannotRun(told(words.otherEnding({ path })));
	const bytes = reading(path, () => readFileSync(path));
	const tile = /\.tiff?$/i.test(path)
		? await (await import("../shared/terrain/geotiff.ts")).readGeoTiff(path, bufferOf(bytes))
		: readHgt(basename(path), /\.gz$/i.test(path) ? unpacked(path, bytes) : bytes);
	if ("code" in tile) throw new CannotRun(told(phraseOf(tile, path)));
	return tile;
}

function sizeOf(path: string): number {
	const kind = reading(path, () => statSync(path));
	if (!kind.isFile()) throw new CannotRun(told(words.notFile({ path })));
	return kind.size;
}

const bufferOf = ({ buffer, byteOffset, byteLength }: Buffer): ArrayBuffer =>
	buffer.slice(byteOffset, byteOffset + byteLength) as ArrayBuffer;

function unpacked(path: string, bytes: Buffer): Buffer {
	try {
		return gunzipSync(bytes, { maxOutputLength: LARGEST_HGT });
	} catch {
		throw new CannotRun(told(words.notGzip({ path })));
	}
}

function phraseOf(problem: HgtProblem | GeoTiffProblem, path: string) {
	switch (problem.code) {
		case "no-corner":
			return words.noCorner({ path });
		case "size":
			return words.size({ path, bytes: problem.bytes.toLocaleString("en") });
		case "unreadable":
			return words.unreadable({ path, why: problem.why });
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
