/** What a photo takes of the memory: its light, two bytes a pixel, and as little as can be while it is read. */
import { expect, test, vi } from "vitest";
import { decodeJpeg } from "../../shared/frames/jpeg.ts";
import { readPhoto } from "../../shared/frames/read-picture.ts";
import { jpegOf, pngOf, tiffOf } from "./files.ts";
import { calmScene } from "./run.ts";

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
	expect(largest).toBeLessThan(bytes.length);
	const framed = new Uint8Array(bytes.length + 20);
	framed.set(bytes, 7);
	expect(await readPhoto(framed.subarray(7, 7 + bytes.length))).toEqual(photo);
});
