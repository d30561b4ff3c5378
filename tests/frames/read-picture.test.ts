/** What a photo takes of the memory: its light, two bytes a pixel, and as little as can be while it is read. */
import { deflateSync } from "node:zlib";
import * as fastPng from "fast-png";
import { expect, test, vi } from "vitest";
import { decodeJpeg } from "../../shared/frames/jpeg.ts";
import { readPhoto } from "../../shared/frames/read-picture.ts";
import { chance } from "./camera.ts";
import { jpegOf, pngOf, tiffOf } from "./files.ts";
import { calmScene } from "./run.ts";

vi.mock("fast-png", async (original) => {
	const all = await original<typeof fastPng>();
	return { ...all, decode: vi.fn(all.decode) };
});

const scene = { ...calmScene, width: 640, height: 400 };
const light = Uint16Array.from({ length: 640 * 400 }, (_, i) => 257 * ((i % 640) >> 2));

test.each([
	["JPEG", jpegOf(scene, light, 95)],
	["PNG", pngOf(scene, light, 16)],
	["TIFF", tiffOf(scene, light, 8)],
])("%s: nothing but its light is kept", async (_, bytes) => {
	const photo = await readPhoto(bytes);
	if ("code" in photo) throw new Error(photo.code);
	expect(photo.picture.light.buffer.byteLength).toBe(2 * 640 * 400);
	expect(Math.abs((photo.picture.light[320] as number) - 256 * 80)).toBeLessThan(600);
});

test("a JPEG's pixels are read where its decoder has them, and nothing of the world around is left changed", async () => {
	const { Uint8ClampedArray: array, ImageData: image } = globalThis as unknown as Record<string, unknown>;
	const bytes = jpegOf(scene, light, 95);
	const seen = await decodeJpeg(bytes, (data, width, height) => ({
		width,
		height,
		length: data.length,
		around: data.buffer.byteLength,
		middle: data[4 * 320],
	}));
	expect(seen).toMatchObject({ width: 640, height: 400, length: 4 * 640 * 400 });
	expect(Math.abs((seen.middle as number) - 80)).toBeLessThan(3);
	// The decoder's memory, not a copy of the pixels alone.
	expect(seen.around).toBeGreaterThan(4 * 640 * 400);
	const use = vi.fn(() => ({}));
	await expect(decodeJpeg(bytes.subarray(0, 900), use)).rejects.toThrow(/ends too early|decoder says/);
	expect((globalThis as unknown as Record<string, unknown>).Uint8ClampedArray).toBe(array);
	if (image) expect((globalThis as unknown as Record<string, unknown>).ImageData).toBe(image);
	expect(new ImageData(new Uint8ClampedArray(4), 1, 1).data.length).toBe(4);
});

test("a TIFF's bytes are not copied as a whole; a part of a buffer is read as that part", async () => {
	const bytes = tiffOf(scene, light, 16);
	const slice = vi.spyOn(ArrayBuffer.prototype, "slice");
	const photo = await readPhoto(bytes);
	const largest = Math.max(...slice.mock.results.map(({ value }) => (value as ArrayBuffer).byteLength));
	slice.mockRestore();
	// Nor is a strip of them: here the only one is all of the picture.
	expect(largest).toBeLessThan(10_000);
	const framed = new Uint8Array(bytes.length + 20);
	framed.set(bytes, 7);
	expect(await readPhoto(framed.subarray(7, 7 + bytes.length))).toEqual(photo);
});

const SAMPLES = { 0: 1, 2: 3, 3: 1, 4: 2, 6: 4 } as const;

/** A PNG of random colours, its rows filtered in each way in turn, its data cut into pieces of a thousand bytes. */
function randomPng(
	[width, height]: readonly [number, number],
	colour: keyof typeof SAMPLES,
	depth: 8 | 16,
	interlaced: boolean,
): Uint8Array {
	const random = chance(width + colour + depth);
	const pixel = (SAMPLES[colour] * depth) / 8;
	const data = Array.from({ length: height }, () =>
		Uint8Array.from({ length: width * pixel }, () => (colour === 3 ? 7 : 256) * random()),
	);
	// Adam7: first column and row of a pass, and its steps.
	const passes = interlaced
		? ([
				[0, 0, 8, 8],
				[4, 0, 8, 8],
				[0, 4, 4, 8],
				[2, 0, 4, 4],
				[0, 2, 2, 4],
				[1, 0, 2, 2],
				[0, 1, 1, 2],
			] as const)
		: ([[0, 0, 1, 1]] as const);
	const raw: number[] = [];
	for (const [x0, y0, across, down] of passes) {
		let before: readonly number[] = [];
		for (let y = y0, filter = 0; y < height; y += down, filter = (filter + 1) % 5) {
			const row: number[] = [];
			for (let x = x0; x < width; x += across)
				row.push(...(data[y] as Uint8Array).subarray(x * pixel, (x + 1) * pixel));
			raw.push(filter);
			row.forEach((one, i) => {
				const [left, above, corner] = [row[i - pixel] ?? 0, before[i] ?? 0, i < pixel ? 0 : (before[i - pixel] ?? 0)];
				const p = left + above - corner;
				const nearest = [left, above, corner].sort((a, b) => Math.abs(p - a) - Math.abs(p - b))[0] as number;
				const guess = [0, left, above, Math.floor((left + above) / 2), nearest][filter] as number;
				raw.push((one - guess + 256) & 255);
			});
			before = row;
		}
	}
	const header = new Uint8Array(13);
	new DataView(header.buffer).setUint32(0, width);
	new DataView(header.buffer).setUint32(4, height);
	header.set([depth, colour, 0, 0, interlaced ? 1 : 0], 8);
	const packed = deflateSync(Uint8Array.from(raw));
	const pieces = Array.from({ length: Math.ceil(packed.length / 1000) }, (_, i) =>
		packed.subarray(1000 * i, 1000 * i + 1000),
	);
	const chunks: readonly (readonly [string, Uint8Array])[] = [
		["IHDR", header],
		...(colour === 3 ? [["PLTE", Uint8Array.from({ length: 21 }, () => 256 * random())] as const] : []),
		...pieces.map((one) => ["IDAT", one] as const),
		["IEND", new Uint8Array(0)],
	];
	return Uint8Array.from([
		...[0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a],
		...chunks.flatMap(([name, content]) => {
			const length = new Uint8Array(4);
			new DataView(length.buffer).setUint32(0, content.length);
			return [...length, ...new TextEncoder().encode(name), ...content, 0, 0, 0, 0];
		}),
	]);
}

test.each([
	[0, 8],
	[0, 16],
	[2, 8],
	[2, 16],
	[3, 8],
	[4, 8],
	[4, 16],
	[6, 8],
	[6, 16],
] as const)(
	"a PNG of colours %d with %d bits is read row by row, as fast-png has all of it; an interlaced one as a whole",
	async (colour, depth) => {
		const size = [211, 203] as const;
		const bytes = randomPng(size, colour, depth, false);
		const whole = fastPng.decode(bytes);
		vi.mocked(fastPng.decode).mockClear();
		const photo = await readPhoto(bytes);
		if ("code" in photo) throw new Error(photo.code);
		expect(fastPng.decode).not.toHaveBeenCalled();
		const { light: read } = photo.picture;
		const step = depth === 16 ? 1 : 256;
		const at = (i: number, k: number): number =>
			whole.palette
				? (whole.palette[whole.data[i] as number]?.[k] as number)
				: (whole.data[whole.channels * i + k] as number);
		for (let i = 0; i < size[0] * size[1]; i++) {
			const grey = whole.channels < 3 && !whole.palette;
			const wanted = grey ? at(i, 0) : 0.299 * at(i, 0) + 0.587 * at(i, 1) + 0.114 * at(i, 2);
			if (Math.abs((read[i] as number) - step * wanted) > 2 + 0.005 * 256 * (step - 1))
				throw new Error(`pixel ${i}: ${read[i]}, not ${step * wanted}`);
		}
		const other = await readPhoto(randomPng(size, colour, depth, true));
		expect(fastPng.decode).toHaveBeenCalled();
		expect(other).toEqual(photo);
		// Half of it is not all of it.
		expect(await readPhoto(cutShort(bytes))).toEqual({ code: "unreadable", why: "it ends too early" });
	},
);

/** Without its second half of data, but with an end. */
function cutShort(bytes: Uint8Array): Uint8Array {
	const view = new DataView(bytes.buffer);
	const starts: number[] = [];
	for (let at = 8; at < bytes.length; at += 12 + view.getUint32(at)) starts.push(at);
	const half = starts[Math.floor(starts.length / 2)] as number;
	return Uint8Array.from([...bytes.subarray(0, half), ...bytes.subarray(starts.at(-1) as number)]);
}

test.each([
	["little", 8],
	["big", 8],
	["little", 16],
	["big", 16],
] as const)(
	"a TIFF of colours in strips, %s-endian, %d bits: its light, and what is missing of it",
	async (end, bits) => {
		const [width, height, rows] = [210, 203, 50];
		const random = chance(bits);
		const little = end === "little";
		const values = Uint16Array.from({ length: 3 * width * height }, () => 2 ** bits * random());
		const size = (values.length * bits) / 8;
		const strips = Math.ceil(height / rows);
		const row = (3 * width * bits) / 8;
		const entries: readonly (readonly [tag: number, type: 3 | 4, values: readonly number[]])[] = [
			[256, 4, [width]],
			[257, 4, [height]],
			[258, 3, [bits, bits, bits]],
			[259, 3, [1]],
			[262, 3, [2]],
			[273, 4, Array.from({ length: strips }, (_, i) => 8 + i * rows * row)],
			[277, 3, [3]],
			[278, 4, [rows]],
			[279, 4, Array.from({ length: strips }, (_, i) => Math.min(rows, height - i * rows) * row)],
		];
		const bytes = new Uint8Array(8 + size + 2 + 12 * entries.length + 4 + 200);
		const view = new DataView(bytes.buffer);
		bytes.set(little ? [0x49, 0x49, 42, 0] : [0x4d, 0x4d, 0, 42]);
		view.setUint32(4, 8 + size, little);
		values.forEach((one, i) => {
			if (bits === 16) view.setUint16(8 + 2 * i, one, little);
			else bytes[8 + i] = one;
		});
		const put = (at: number, type: 3 | 4, list: readonly number[]): void => {
			list.forEach((one, i) => {
				if (type === 3) view.setUint16(at + 2 * i, one, little);
				else view.setUint32(at + 4 * i, one, little);
			});
		};
		let beyond = 8 + size + 2 + 12 * entries.length + 4;
		view.setUint16(8 + size, entries.length, little);
		entries.forEach(([tag, type, list], i) => {
			const at = 8 + size + 2 + 12 * i;
			view.setUint16(at, tag, little);
			view.setUint16(at + 2, type, little);
			view.setUint32(at + 4, list.length, little);
			if (list.length === 1) put(at + 8, type, list);
			else {
				view.setUint32(at + 8, beyond, little);
				put(beyond, type, list);
				beyond += 4 * list.length;
			}
		});
		const photo = await readPhoto(bytes);
		if ("code" in photo) throw new Error(JSON.stringify(photo));
		const step = bits === 16 ? 1 : 256;
		for (let i = 0; i < width * height; i++) {
			const [r = 0, g = 0, b = 0] = values.subarray(3 * i, 3 * i + 3);
			const wanted = step * (0.299 * r + 0.587 * g + 0.114 * b);
			expect(Math.abs((photo.picture.light[i] as number) - wanted)).toBeLessThan(2 + 0.005 * 256 * (step - 1));
		}
		// The last strip is said to be where the file has ended.
		view.setUint32(beyond - 4 * strips - 4 * strips + 4 * (strips - 1), bytes.length - 10, little);
		expect(await readPhoto(bytes)).toEqual({ code: "unreadable", why: "it ends too early" });
	},
);
