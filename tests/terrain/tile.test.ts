import { describe, expect, test } from "vitest";
import { cornerOf, readHgt, tileNameAt } from "../../shared/terrain/hgt.ts";
import { fewestPoints } from "../../shared/terrain/simplify.ts";
import { bridgeVoids, groundAt, type Tile, VOID } from "../../shared/terrain/tile.ts";

/** A small tile whose heights are given, one degree each way. */
const small = (...rows: readonly (readonly number[])[]): Tile => ({
	name: "small",
	north: 1,
	west: 0,
	latitudeStep: 1 / (rows.length - 1),
	longitudeStep: 1 / ((rows[0]?.length ?? 0) - 1),
	rows: rows.length,
	columns: rows[0]?.length ?? 0,
	heights: Int16Array.from(rows.flat()),
});

describe("a .hgt tile", () => {
	test("lies where its name says", () => {
		expect(cornerOf("S33E020.hgt")).toEqual({ south: -33, west: 20 });
		expect(cornerOf("tiles/n46w008.SRTMGL1.hgt")).toEqual({ south: 46, west: -8 });
		expect(cornerOf("heights.hgt")).toBeUndefined();
		expect(tileNameAt(-32.4123, 20.9)).toBe("S33E020");
		expect(tileNameAt(46.5, -7.2)).toBe("N46W008");
	});

	test("begins at its north-west corner, high byte first", () => {
		const bytes = new Uint8Array(2 * 1201 * 1201);
		bytes.set([0x01, 0x02, 0xff, 0xfe]);
		bytes.set([0x80, 0x00], 2 * 1201);
		const tile = readHgt("N46E008.hgt", bytes);
		if ("code" in tile) throw new Error(tile.code);
		expect([tile.rows, tile.columns, tile.north, tile.west]).toEqual([1201, 1201, 47, 8]);
		expect([tile.heights[0], tile.heights[1], tile.heights[1201]]).toEqual([258, -2, VOID]);
		expect(groundAt(tile, 47 - 1 / 2400, 8 + 1.5 / 1200)).toBeCloseTo(-0.5, 9);
		expect(groundAt(tile, 47 - 1 / 2400, 8)).toBeUndefined();
	});

	test("of another size is refused with its bytes", () => {
		expect(readHgt("N46E008.hgt", new Uint8Array(77))).toEqual({ code: "size", name: "N46E008.hgt", bytes: 77 });
		expect(readHgt("heights.hgt", new Uint8Array(77))).toMatchObject({ code: "no-corner" });
	});
});

describe("voids", () => {
	test("small ones are bridged by the lines of their row and column", () => {
		const tile = small([10, 20, 30], [10, VOID, 50], [10, 60, 70]);
		expect(bridgeVoids(tile)).toEqual({ bridged: 1, left: 0 });
		expect(tile.heights[4]).toBe((30 + 40) / 2);
	});

	test("wide ones, and those at an edge, are left", () => {
		const wide = [1, VOID, VOID, VOID, VOID, VOID, 7];
		const tile = small(wide, wide, wide, wide, wide, wide, wide);
		expect(bridgeVoids(tile)).toEqual({ bridged: 0, left: 35 });
		expect(groundAt(tile, 0.5, 0.5)).toBeUndefined();
		expect(bridgeVoids(small([VOID, VOID], [3, 4]))).toEqual({ bridged: 0, left: 2 });
	});
});

describe("the fewest points", () => {
	/** All closed lines through some of the altitudes, by trying every choice. */
	function fewestByTrying(altitudes: readonly number[], tolerance: number): number {
		const count = altitudes.length;
		const highest = altitudes.indexOf(Math.max(...altitudes));
		let fewest = count;
		for (let choice = 0; choice < 1 << count; choice++) {
			if (!(choice & (1 << highest))) continue;
			const chosen = altitudes.flatMap((_, i) => (choice & (1 << i) ? [i] : []));
			if (chosen.length < fewest && farthest(altitudes, chosen) <= tolerance + 1e-9) fewest = chosen.length;
		}
		return fewest;
	}

	/** How far closed straight lines through some of the altitudes are from the others at most. */
	function farthest(altitudes: readonly number[], chosen: readonly number[]): number {
		const count = altitudes.length;
		return Math.max(
			...chosen.flatMap((from, k) => {
				const next = chosen[(k + 1) % chosen.length] as number;
				const length = (next - from + count - 1) % count || 0;
				return Array.from({ length: length + 1 }, (_, i) => {
					const part = i / (length + 1);
					const line = (altitudes[from] as number) * (1 - part) + (altitudes[next] as number) * part;
					return Math.abs(line - (altitudes[(from + i) % count] as number));
				});
			}),
		);
	}

	test("are as few as any choice has, and keep within the tolerance", () => {
		let seed = 5;
		const random = (): number => {
			seed = (seed * 48_271) % 2_147_483_647;
			return seed / 2_147_483_647;
		};
		for (let round = 0; round < 60; round++) {
			const altitudes = Array.from({ length: 11 }, () => 2 * random());
			const points = fewestPoints(altitudes, 0.45);
			const chosen = points.map(([bearing]) => Math.round((bearing * altitudes.length) / 360));
			expect(farthest(altitudes, chosen)).toBeLessThanOrEqual(0.45 + 1e-9);
			expect(points.length).toBe(fewestByTrying(altitudes, 0.45));
		}
	});

	test("of a flat horizon is one", () => {
		expect(fewestPoints(new Float64Array(3600), 0.1)).toEqual([[0, 0]]);
	});
});
