import { describe, expect, test } from "vitest";
import { gapsOf, missingTiles } from "../../shared/terrain/gaps.ts";
import { HorizonFinder } from "../../shared/terrain/horizon.ts";

const all = (known: (bearing: number) => number): Float64Array =>
	Float64Array.from({ length: 360 }, (_, bearing) => known(bearing));

describe("stretches of bearings without ground", () => {
	test("say where it is known least, and most", () => {
		const known = all((bearing) =>
			bearing >= 153 && bearing < 300 ? 11_000 + 500 * Math.abs(bearing - 270) : 100_000,
		);
		expect(gapsOf(known, 100_000)).toEqual([{ from: 153, until: 299, least: 11_000, bearing: 270, most: 69_500 }]);
	});

	test("go through north as one; all round is one; a kilometre at the end is none", () => {
		const known = all((bearing) => (bearing < 10 ? 30_000 : bearing > 350 ? 20_000 + bearing : 100_000));
		expect(gapsOf(known, 100_000)).toEqual([{ from: 351, until: 9, least: 20_351, bearing: 351, most: 30_000 }]);
		expect(
			gapsOf(
				all(() => 5),
				100_000,
			),
		).toEqual([{ from: 0, until: 359, least: 5, bearing: 0, most: 5 }]);
		expect(
			gapsOf(
				all(() => 99_100),
				100_000,
			),
		).toEqual([]);
		expect(
			gapsOf(
				all((bearing) => (bearing === 0 || bearing === 40 ? 5 : 100_000)),
				100_000,
			),
		).toHaveLength(2);
	});
});

describe("tiles that are missing", () => {
	const eye = { latitude: -33.2145, longitude: 20.1132, elevation: 402 };
	const around = { north: -33, south: -34, west: 20, east: 21 };
	/** One tile around the eye: known to its edges, which on a sphere are so far away. */
	const edge = (bearing: number): number => {
		const [s, c] = [Math.sin((bearing * Math.PI) / 180), Math.cos((bearing * Math.PI) / 180)];
		const across = 111_195 * Math.cos((eye.latitude * Math.PI) / 180);
		const north = (c > 0 ? around.north - eye.latitude : around.south - eye.latitude) * 111_195;
		const east = (s > 0 ? around.east - eye.longitude : around.west - eye.longitude) * across;
		return Math.min(Math.abs(north / (c || 1e-9)), Math.abs(east / (s || 1e-9)));
	};
	const missing = (extents: readonly (typeof around)[], reach: number, knownTo = all(edge)) =>
		missingTiles(
			{ eye, extents, horizon: { ...new HorizonFinder(eye, { reach, near: 100 }).horizon(), knownTo } },
			reach,
		);

	test("are named, the nearest first, and none that is there", () => {
		// 10.5 km to the west edge, 23.9 km to the north one, 82 km to the east one, 87 km to the south one.
		expect(missing([around], 20_000)).toEqual(["S34E019"]);
		expect(missing([around], 60_000)).toEqual(["S34E019", "S33E020", "S33E019"]);
		const names = missing([around], 100_000);
		expect(names.slice(0, 3)).toEqual(["S34E019", "S33E020", "S33E019"]);
		expect(new Set(names)).toEqual(
			new Set(["S34E019", "S33E020", "S33E019", "S34E021", "S33E021", "S35E020", "S35E019"]),
		);
		expect(missing([around, { north: -33, south: -34, west: 19, east: 20 }], 20_000)).toEqual([]);
	});

	test("none is named for a gap within a tile that is there", () => {
		expect(
			missing(
				[around],
				9000,
				all(() => 3000),
			),
		).toEqual([]);
	});

	test("the date line is no edge of the world", () => {
		const here = { latitude: 10.5, longitude: 179.9, elevation: 0 };
		const horizon = { ...new HorizonFinder(here, { reach: 30_000, near: 100 }).horizon(), knownTo: all(() => 5000) };
		const tile = { north: 11, south: 10, west: 179, east: 180 };
		expect(missingTiles({ eye: here, extents: [tile], horizon }, 30_000)).toEqual(["N10W180"]);
		const beyond = { north: 11, south: 10, west: -180, east: -179 };
		expect(missingTiles({ eye: here, extents: [tile, beyond], horizon }, 30_000)).toEqual([]);
	});
});
