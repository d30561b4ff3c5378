import { readFileSync } from "node:fs";
import geodesic from "geographiclib-geodesic";
import { describe, expect, test } from "vitest";
import { HorizonFinder } from "../../shared/terrain/horizon.ts";
import type { Tile } from "../../shared/terrain/tile.ts";

const { WGS84 } = geodesic.Geodesic;

/** A tile of one degree whose ground is a function of its place, the heights `seconds` arc seconds apart. */
function tileOf(
	south: number,
	west: number,
	ground: (latitude: number, longitude: number) => number,
	seconds = 3,
): Tile {
	const rows = 3600 / seconds + 1;
	const step = 1 / (rows - 1);
	const heights = new Float32Array(rows * rows);
	for (let i = 0; i < rows; i++)
		for (let j = 0; j < rows; j++) heights[i * rows + j] = ground(south + 1 - i * step, west + j * step);
	const name = `${south} ${west}`;
	return { name, north: south + 1, west, latitudeStep: step, longitudeStep: step, rows, columns: rows, heights };
}

/** Distance and bearing from one place to another, by the geodesic (Karney), metres and degrees. */
function geodesicTo(eye: { latitude: number; longitude: number }, latitude: number, longitude: number) {
	const { s12 = 0, azi1 = 0 } = WGS84.Inverse(eye.latitude, eye.longitude, latitude, longitude);
	return { distance: s12, bearing: (azi1 + 360) % 360 };
}

/** REFERENCES, "Skyline from elevations": a point a height above the eye at a distance, with R = 6,371 km and k = 0.13. */
const handbook = (rise: number, d: number): number =>
	(Math.atan((rise - (d * d * (1 - 0.13)) / (2 * 6_371_000)) / d) * 180) / Math.PI;

test("the handbook's own values", () => {
	expect(handbook(2000, 30_000)).toBeCloseTo(3.7, 2);
	expect(handbook(2000, 60_000)).toBeCloseTo(1.67, 2);
});

describe.each([
	{ latitude: 46.512, longitude: 8.487 },
	{ latitude: -32.518, longitude: 20.497 },
	{ latitude: 0.2, longitude: 37.6 },
	{ latitude: 64.4, longitude: -21.3 },
])("peaks on a curved Earth, from $latitude, $longitude", ({ latitude, longitude }) => {
	const eye = { latitude, longitude, elevation: 500 };
	const [south, west] = [Math.floor(latitude), Math.floor(longitude)];
	// Needles of a single height, on places of the grid: nothing but the one height tells where they are.
	const needles = [
		[12, 700, 2500],
		[1100, 40, 2500],
		[611, 610, 900],
		[300, 1150, 1800],
		[999, 333, 3000],
	].map(([row = 0, column = 0, height = 0]) => ({ row, column, height }));
	const tile = tileOf(south, west, () => 0);
	for (const { row, column, height } of needles) tile.heights[row * tile.columns + column] = height;
	const finder = new HorizonFinder(eye, { reach: 120_000, near: 150 });
	finder.add(tile);
	const { altitudes, distances } = finder.horizon();

	test.each(needles)("a needle of $height m at row $row, column $column", ({ row, column, height }) => {
		const there = geodesicTo(eye, south + 1 - row / 1200, west + column / 1200);
		const bin = Math.round(there.bearing * 10) % 3600;
		expect(Math.abs((altitudes[bin] as number) - handbook(height - 500, there.distance))).toBeLessThan(0.02);
		expect(Math.abs((distances[bin] as number) - there.distance)).toBeLessThan(5);
	});
});

/** The crest of a ridge along a parallel: at a bearing where the geodesic meets it, metres away. */
function crestAt(eye: { latitude: number; longitude: number }, latitude: number, bearing: number): number {
	let [near, far] = [0, 150_000];
	for (let i = 0; i < 60; i++) {
		const middle = (near + far) / 2;
		const { lat2 = 0 } = WGS84.Direct(eye.latitude, eye.longitude, bearing, middle);
		if (Math.abs(lat2 - eye.latitude) < Math.abs(latitude - eye.latitude)) near = middle;
		else far = middle;
	}
	return near;
}

test.each([
	{ name: "3 km north", row: 520, height: 1400 },
	{ name: "200 m north", row: 597, height: 560 },
	{ name: "25 km south", row: 900, height: 2100 },
])("the crest of a ridge $name, between the heights too", ({ row, height }) => {
	const eye = { latitude: 46.5 + 0.0003, longitude: 8.5004, elevation: 500 };
	const latitude = 47 - row / 1200;
	// A roof that falls off by 40° either way.
	const metres = 111_200;
	const tile = tileOf(46, 8, (at) => Math.max(0, height - Math.abs(at - latitude) * metres * 0.84));
	const finder = new HorizonFinder(eye, { reach: 120_000, near: 40 });
	finder.add(tile);
	const { altitudes } = finder.horizon();
	const middle = latitude > eye.latitude ? 0 : 180;
	for (let off = -40; off <= 40; off += 0.7) {
		const bearing = (middle + off + 360) % 360;
		const bin = Math.round(bearing * 10) % 3600;
		expect(
			Math.abs((altitudes[bin] as number) - handbook(height - 500, crestAt(eye, latitude, bin / 10))),
		).toBeLessThan(0.02);
	}
});

test("a made landscape as GRASS GIS sees it (r.horizon, recorded by grass-horizon.sh), to 0.1°", () => {
	const eye = { latitude: 46.5, longitude: 8.5, elevation: 500 };
	const wave = (degrees: number): number => Math.sin((degrees * Math.PI) / 180);
	const tile = tileOf(
		46,
		8,
		(latitude, longitude) => {
			if (Math.abs(latitude - eye.latitude) > 0.1 || Math.abs(longitude - eye.longitude) > 0.15) return 500;
			const { distance, bearing } = geodesicTo(eye, latitude, longitude);
			const part = Math.max(0, 1 - ((distance - 7000) / 2500) ** 2);
			return (
				500 + part * (900 + 300 * wave(5 * bearing) + 150 * wave(9 * bearing + 90 + 57.29578) + 60 * wave(23 * bearing))
			);
		},
		3,
	);
	const finder = new HorizonFinder(eye, { reach: 11_500, near: 150 });
	finder.add(tile);
	const { altitudes, distances } = finder.horizon();
	const recorded = readFileSync(new URL("grass-horizon.csv", import.meta.url), "utf8")
		.trim()
		.split("\n")
		.slice(1);
	expect(recorded.length).toBe(180);
	let compared = 0;
	for (const line of recorded) {
		const [bearing = 0, altitude = 0] = line.split(",").map(Number);
		// At 58 bearings r.horizon 8.2.1 stops on the plain before it.
		if (altitude < 0.001) continue;
		compared++;
		// It knows neither curvature nor refraction, and takes the nearest height: up to half a cell beside the line.
		const apart = [-1, 0, 1].map((beside) => {
			const bin = (Math.round(bearing * 10) + beside + 3600) % 3600;
			const curved = Math.atan(((distances[bin] as number) * (1 - 0.13)) / (2 * 6_371_000)) * (180 / Math.PI);
			return Math.abs((altitudes[bin] as number) + curved - altitude);
		});
		expect(Math.min(...apart), `at ${bearing}°`).toBeLessThan(0.1);
	}
	expect(compared).toBeGreaterThan(120);
});
