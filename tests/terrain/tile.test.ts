import { describe, expect, test } from "vitest";
import { cornerOf, readHgt, tileNameAt } from "../../shared/terrain/hgt.ts";
import { fewestPoints } from "../../shared/terrain/simplify.ts";
import { bridgeVoids, groundAt, groundOnly, type Tile, VOID } from "../../shared/terrain/tile.ts";

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

describe("heights that no ground has", () => {
	/** A tile of a formula's heights, high byte first or, `swapped`, low byte first. */
	const bytes = (height: (row: number, column: number) => number, { swapped = false } = {}): Uint8Array => {
		const view = new DataView(new ArrayBuffer(2 * 1201 * 1201));
		for (let i = 0; i < 1201 * 1201; i++)
			view.setInt16(2 * i, Math.round(height(Math.floor(i / 1201), i % 1201)), swapped);
		return new Uint8Array(view.buffer);
	};
	const read = (height: (row: number, column: number) => number, swapped = false) =>
		readHgt("N46E008.hgt", bytes(height, { swapped }));
	const waves = (most: number) => (row: number, column: number) =>
		(most / 2) * (1 + Math.sin(row / 40) * Math.cos(column / 70));

	test.each([
		["a plain of 400 m", () => 400],
		["a plain and a ridge", (row: number) => (Math.abs(row - 600) < 5 ? 2000 : 400)],
		["hills", waves(1500)],
		["low dunes, whose heights the other way round could be ground", waves(30)],
		["a coast with little land", (row: number, column: number) => (row < 60 ? 1 + waves(300)(row, column) : 0)],
		[
			"highlands with voids",
			(row: number, column: number) => (row % 10 === 0 ? VOID : 4000 + waves(2000)(row, column)),
		],
		["a wall", (_: number, column: number) => (column < 600 ? 0 : 1024)],
		["below the sea", () => -420],
	])("%s: read as it is, and known the other way round", (_, height) => {
		const tile = read(height);
		if ("code" in tile) throw new Error(JSON.stringify(tile));
		expect(tile.strange).toBeUndefined();
		const other = read(height, true);
		// 0 and 1,024 m the other way round are 0 and 4 m: nobody can know.
		if (_ === "a wall") expect(other).not.toHaveProperty("code");
		else expect(other).toMatchObject({ code: "swapped" });
	});

	test("the trial's height: −28,671 m is 400 m the other way round", () => {
		expect(read(() => 400, true)).toEqual({ code: "swapped", name: "N46E008.hgt", height: -28_671, swapped: 400 });
	});

	test("sea alone is sea", () => {
		expect(read(() => 0, true)).not.toHaveProperty("code");
		expect(read(() => VOID)).not.toHaveProperty("code");
	});

	test("a few become voids, with the first one's place", () => {
		const tile = groundOnly(small([10, 20, 32_767], [10, 9001, 50], [-501, 9000, -500]));
		if ("code" in tile) throw new Error(tile.code);
		expect([...tile.heights]).toEqual([10, 20, VOID, 10, VOID, 50, VOID, 9000, -500]);
		expect(tile.strange).toEqual({ count: 3, height: 32_767, latitude: 1, longitude: 1 });
	});

	test("most of a tile's are refused, but one value for what is not known is a void", () => {
		expect(groundOnly(small([12_000, 12_010], [12_020, 30]))).toMatchObject({ code: "no-ground", count: 3, all: 4 });
		const void9999 = groundOnly(small([-9999, -9999], [-9999, 30]));
		expect(void9999).toMatchObject({ strange: { count: 3, height: -9999 } });
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
