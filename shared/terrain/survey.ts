/** The skyline of a spot by elevation tiles: where the eye is, what the ground around hides, and what is not known. */
import { EARTH_RADIUS, TERRESTRIAL_REFRACTION } from "../earth/sightline.ts";
import { DEG, RAD } from "../sky/vector.ts";
import { BEARINGS, type Eye, type Horizon, HorizonFinder, type Sight } from "./horizon.ts";
import { fewestPoints, type HorizonPoint } from "./simplify.ts";
import { bridgeVoids, groundAt, isOn, type StrangeHeights, type Tile } from "./tile.ts";

/** A tile that is loaded when it is its turn, and let go after it. */
export interface TileSource {
	/** Undefined where the tile cannot be read. */
	load(): Promise<Tile | undefined>;
}

/** From where and how far: degrees and metres. */
export interface SurveyOptions {
	readonly latitude: number;
	readonly longitude: number;
	/** Of the eye above the ground. */
	readonly eyeHeight: number;
	/** Of the ground, where it is known better than by the tiles. */
	readonly elevation?: number | undefined;
	readonly reach: number;
	/** Lines of sight that are asked for. */
	readonly sights?: readonly Sight[];
	/** Called after each tile with the part that is done; it may throw to stop. */
	readonly progress?: (part: number) => void;
}

export interface GroundSurvey {
	readonly eye: Eye;
	/** The tiles' ground at the spot, metres; undefined where no tile covers it. */
	readonly ground: number;
	/** Ground nearer than this is not known to the tiles, metres. */
	readonly near: number;
	readonly points: readonly HorizonPoint[];
	/** How far from the highest ground the points' straight lines are at most, degrees. */
	readonly tolerance: number;
	readonly horizon: Horizon;
	readonly bridged: number;
	readonly voids: number;
	/** Heights that no ground has, with the first of them and its tile. */
	readonly strange: (StrangeHeights & { readonly name: string }) | undefined;
	/** The tiles' edges. */
	readonly extents: readonly Extent[];
	/** Bearings at which nothing is known at all: taken as the sea. */
	readonly unknown: number;
}

/** From where to where a tile knows the ground, degrees. */
export type Extent = Readonly<Record<"north" | "south" | "west" | "east", number>>;

/** That the ground at the spot is not known. */
export interface NoGroundHere {
	readonly code: "no-ground-here";
	/** The tile that the spot is on, and whether it has heights elsewhere; undefined where none is. */
	readonly on: { readonly name: string; readonly isEmpty: boolean } | undefined;
}

/** Straight lines between the points are this near to the ground, degrees. */
const TOLERANCE = 0.1;
/** Points that a plan's skyline may have, with room for some of one's own. */
export const MOST_POINTS = 720;
/** Ground nearer than this many steps of the grid is not told from the ground at one's feet. */
const STEPS_AWAY = 1.5;
/** And never nearer, metres. */
const AWAY = 30;
const METRES_PER_DEGREE = 111_320;

/** What the ground hides around a spot; or that no tile knows the ground there. The tiles come nearest first. */
export async function surveyGround(
	tiles: readonly TileSource[],
	{ latitude, longitude, eyeHeight, elevation, reach, sights = [], progress }: SurveyOptions,
): Promise<GroundSurvey | NoGroundHere> {
	const under = await tileUnder(tiles, latitude, longitude);
	if (under.code !== undefined) return under;
	const { ground } = under;
	const near = nearOf(under.tile, latitude);
	const eye: Eye = { latitude, longitude, elevation: (elevation ?? ground) + eyeHeight };
	const finder = new HorizonFinder(eye, { reach, near, sights });
	let [bridged, voids] = [0, 0];
	let strange: GroundSurvey["strange"];
	const extents: Extent[] = [];
	for (const [i, source] of tiles.entries()) {
		const bridge = i === under.index ? under : await loadBridged(source);
		if (bridge) {
			bridged += bridge.bridged;
			voids += bridge.left;
			extents.push(extentOf(bridge.tile));
			const { name, strange: more } = bridge.tile;
			if (more) strange = strange ? { ...strange, count: strange.count + more.count } : { name, ...more };
			finder.add(bridge.tile);
		}
		progress?.((i + 1) / tiles.length);
	}
	const horizon = finder.horizon();
	const { altitudes, unknown } = withSea(horizon.altitudes, eye.elevation);
	let tolerance = TOLERANCE;
	let points = fewestPoints(altitudes, tolerance);
	while (points.length > MOST_POINTS) {
		tolerance *= 1.5;
		points = fewestPoints(altitudes, tolerance);
	}
	return { eye, ground, near, points, tolerance, horizon, bridged, voids, strange, extents, unknown };
}

const extentOf = ({ north, west, rows, columns, latitudeStep, longitudeStep }: Tile): Extent => ({
	north,
	west,
	south: north - (rows - 1) * latitudeStep,
	east: west + (columns - 1) * longitudeStep,
});

/** A tile whose small voids are bridged, and how many were and were not. */
async function loadBridged(source: TileSource) {
	const tile = await source.load();
	return tile && { tile, ...bridgeVoids(tile) };
}

/** The first tile that knows the ground at a spot, with that ground. */
async function tileUnder(tiles: readonly TileSource[], latitude: number, longitude: number) {
	let on: NoGroundHere["on"];
	for (const [index, source] of tiles.entries()) {
		const bridge = await loadBridged(source);
		const ground = bridge && groundAt(bridge.tile, latitude, longitude);
		if (bridge && ground !== undefined) return { ...bridge, index, ground };
		if (bridge && isOn(bridge.tile, latitude, longitude))
			on ??= { name: bridge.tile.name, isEmpty: bridge.left === bridge.tile.heights.length };
	}
	return { code: "no-ground-here" as const, on };
}

function nearOf({ latitudeStep, longitudeStep }: Tile, latitude: number): number {
	const across = longitudeStep * Math.cos(latitude * RAD);
	return Math.max(AWAY, STEPS_AWAY * Math.max(latitudeStep, across) * METRES_PER_DEGREE);
}

/** Where there is no ground at all there is the sea: its horizon dips by √(2 (1 − k) height / R), about 1.8′ √metres. */
function withSea(found: Float64Array, elevation: number) {
	const dip = -DEG * Math.sqrt((2 * (1 - TERRESTRIAL_REFRACTION) * Math.max(0, elevation)) / EARTH_RADIUS);
	let unknown = 0;
	const altitudes = found.map((one) => {
		if (Number.isNaN(one)) unknown++;
		return Number.isNaN(one) ? dip : Math.max(one, dip);
	});
	return { altitudes, unknown: (unknown * 360) / BEARINGS };
}

/** The ground by the tiles at places, metres, each from the first tile that knows it; undefined where none does. */
export async function groundsAt(
	tiles: readonly TileSource[],
	places: readonly { readonly latitude: number; readonly longitude: number }[],
): Promise<readonly (number | undefined)[]> {
	const grounds: (number | undefined)[] = places.map(() => undefined);
	for (const source of tiles) {
		if (grounds.every((one) => one !== undefined)) break;
		const bridge = await loadBridged(source);
		if (!bridge) continue;
		for (const [i, { latitude, longitude }] of places.entries())
			grounds[i] ??= groundAt(bridge.tile, latitude, longitude);
	}
	return grounds;
}
