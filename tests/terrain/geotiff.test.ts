import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { readGeoTiff } from "../../shared/terrain/geotiff.ts";
import { groundAt, type Tile, VOID } from "../../shared/terrain/tile.ts";

const bytesOf = (name: string): ArrayBuffer => {
	const { buffer, byteOffset, byteLength } = readFileSync(new URL(`tiles/${name}`, import.meta.url));
	return buffer.slice(byteOffset, byteOffset + byteLength) as ArrayBuffer;
};

async function tileOf(name: string): Promise<Tile> {
	const tile = await readGeoTiff(name, bytesOf(name));
	if ("code" in tile) throw new Error(JSON.stringify(tile));
	return tile;
}

/** The made ground of tiles/README.md. */
const ground = (row: number, column: number): number => 500 + ((7 * row + 3 * column) % 50);

describe("GeoTIFF as GDAL writes it", () => {
	test("whole numbers, deflated with a predictor; heights that are points lie where they are", async () => {
		const tile = await tileOf("deflate.tif");
		expect([tile.rows, tile.columns]).toEqual([61, 61]);
		expect(tile.north).toBeCloseTo(47, 9);
		expect(tile.west).toBeCloseTo(8, 9);
		for (const [row, column] of [
			[0, 0],
			[7, 33],
			[60, 60],
		] as const) {
			expect(tile.heights[row * 61 + column]).toBe(ground(row, column));
			expect(groundAt(tile, 47 - row / 1200, 8 + column / 1200)).toBeCloseTo(ground(row, column), 5);
		}
	});

	test("floating numbers in blocks, packed by LZW, with a value for no data", async () => {
		const tile = await tileOf("float.tif");
		expect(tile.north).toBeCloseTo(47 - 200 / 1200, 9);
		expect(tile.west).toBeCloseTo(8 + 100 / 1200, 9);
		for (let row = 0; row < 41; row++)
			for (let column = 0; column < 31; column++) {
				const height = ground(200 + row, 100 + column);
				expect(tile.heights[row * 31 + column]).toBe(height === 510 ? VOID : height);
			}
	});

	test("in metres of a map it is refused", async () => {
		expect(await readGeoTiff("a", bytesOf("projected.tif"))).toEqual({ code: "projected", name: "a" });
	});

	test.each(["float.tif", "deflate.tif"])("%s cut off or damaged: an answer, and soon", async (file) => {
		const whole = new Uint8Array(bytesOf(file));
		const rows = (await tileOf(file)).rows;
		for (let length = 0; length < whole.length; length += 37) {
			const answer = await readGeoTiff("cut", whole.slice(0, length).buffer);
			expect("code" in answer || answer.rows === rows).toBe(true);
		}
		let seed = 11;
		for (let round = 0; round < 300; round++) {
			const changed = whole.slice();
			for (let k = 0; k < 4; k++) {
				seed = (seed * 48_271) % 2_147_483_647;
				// Most of what matters is in the head.
				changed[seed % (k < 2 ? 500 : changed.length)] = seed >> 8;
			}
			const answer = await readGeoTiff("noise", changed.buffer);
			expect("code" in answer || answer.heights.length === answer.rows * answer.columns).toBe(true);
		}
		expect(await readGeoTiff("none", new ArrayBuffer(0))).toMatchObject({ code: "short" });
	});
});
