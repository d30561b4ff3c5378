/** Elevation tiles on disk: which there are, and each loaded when it is its turn. */
import { readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { gunzipSync } from "node:zlib";
import { LARGEST_HGT } from "../shared/terrain/hgt.ts";
import type { TileSource } from "../shared/terrain/survey.ts";
import type { Tile } from "../shared/terrain/tile.ts";
import { sentences, told } from "../shared/text/sentence.ts";
import { CannotRun, reading } from "./files.node.ts";
import { degreesAway, isWithin, tileOf } from "./ground/tiles.ts";

const words = sentences("command.terrain", {
	missing: "{path}: there is no such file or folder",
	none: "{path}: the folder has no elevation tile, that is, no file ending in .hgt, .hgt.gz, .tif or .tiff",
	notFile: "{path}: it is not a file",
	otherEnding: "{path}: an elevation tile ends in .hgt, .hgt.gz, .tif or .tiff",
	large: "{path}: it has {size} MB; a tile may have {limit} MB. Cut out the part you need",
	notGzip: "{path}: it cannot be unpacked; the download may be incomplete",
});

/** Bytes of a tile at most: 1″ over a degree in floating numbers has 52 MB. */
const LARGEST_TILE = 250_000_000;
const MEGABYTE = 1_000_000;

const ENDINGS = /\.(?:hgt(?:\.gz)?|tiff?)$/i;

export interface TilesOnDisk {
	readonly sources: readonly TileSource[];
	/** What was wrong with those that could not be read, once they were asked for: the others go on without them. */
	readonly unread: ReadonlySet<string>;
}

/** The tiles of files and folders that may lie within a reach of a place, degrees and metres, the nearest first. */
export function tilesOf(
	paths: readonly string[],
	place: { readonly latitude: number; readonly longitude: number },
	reach: number,
): TilesOnDisk {
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
	const unread = new Set<string>();
	const sources = files
		.map((path) => ({ path, away: degreesAway(path, place) }))
		.filter(({ away }) => isWithin(away, reach))
		.sort((a, b) => a.away - b.away || (a.path < b.path ? -1 : 1))
		.map(({ path }) => ({ load: () => readOrNamed(path, unread) }));
	return { sources, unread };
}

async function readOrNamed(path: string, unread: Set<string>): Promise<Tile | undefined> {
	try {
		return await loadTile(path);
	} catch (error) {
		if (!(error instanceof CannotRun)) throw error;
		unread.add(error.message);
		return undefined;
	}
}

async function loadTile(path: string): Promise<Tile> {
	const size = sizeOf(path);
	if (size > LARGEST_TILE)
		throw new CannotRun(told(words.large({ path, size: Math.ceil(size / MEGABYTE), limit: LARGEST_TILE / MEGABYTE })));
	if (!ENDINGS.test(path)) throw new CannotRun(told(words.otherEnding({ path })));
	const bytes = reading(path, () => readFileSync(path));
	const tile = await tileOf(path, /\.gz$/i.test(path) ? unpacked(path, bytes) : bytes);
	if ("key" in tile) throw new CannotRun(told(tile));
	return tile;
}

function sizeOf(path: string): number {
	const kind = reading(path, () => statSync(path));
	if (!kind.isFile()) throw new CannotRun(told(words.notFile({ path })));
	return kind.size;
}

function unpacked(path: string, bytes: Buffer): Buffer {
	try {
		return gunzipSync(bytes, { maxOutputLength: LARGEST_HGT });
	} catch {
		throw new CannotRun(told(words.notGzip({ path })));
	}
}
