/** Pictures of our own camera as the files a real one writes. */
import { encode as encodePng } from "fast-png";
import jpeg from "jpeg-js";
import type { Scene } from "./camera.ts";

/** EXIF of a frame: clock time when the shutter opened, exposure and focal length (Exif 2.32, big-endian). */
export function exifOf(clock: string, exposure: number, focal: number): Uint8Array {
	const bytes = new Uint8Array(26 + 2 + 4 * 12 + 4 + 64);
	const view = new DataView(bytes.buffer);
	bytes.set([0x4d, 0x4d, 0, 42, 0, 0, 0, 8]);
	// The first directory only leads to that of the exposure.
	view.setUint16(8, 1);
	const entry = (at: number, tag: number, type: number, count: number, value: number) => {
		view.setUint16(at, tag);
		view.setUint16(at + 2, type);
		view.setUint32(at + 4, count);
		view.setUint32(at + 8, value);
	};
	entry(10, 0x8769, 4, 1, 26);
	view.setUint16(26, 3);
	const data = 26 + 2 + 3 * 12 + 4;
	entry(28, 0x829a, 5, 1, data);
	entry(40, 0x9003, 2, 20, data + 16);
	entry(52, 0x920a, 5, 1, data + 8);
	view.setUint32(data, Math.round(exposure * 1000));
	view.setUint32(data + 4, 1000);
	view.setUint32(data + 8, Math.round(focal * 10));
	view.setUint32(data + 12, 10);
	bytes.set(new TextEncoder().encode(`${clock}\0`), data + 16);
	return bytes;
}

/** `2027:06:05 21:30:00` of an instant that is that many hours ahead of UTC there. */
export const exifClock = (at: number, hours: number): string =>
	new Date(at + hours * 3_600_000).toISOString().slice(0, 19).replace("T", " ").replaceAll("-", ":");

export function jpegOf({ width, height }: Scene, light: Uint16Array, quality: number, exif?: Uint8Array): Uint8Array {
	const data = new Uint8Array(4 * width * height);
	for (let i = 0; i < light.length; i++) data.fill((light[i] as number) >> 8, 4 * i, 4 * i + 4);
	const exifBuffer = exif && Uint8Array.from([0x45, 0x78, 0x69, 0x66, 0, 0, ...exif]);
	const picture = { data, width, height, ...(exifBuffer && { exifBuffer }) };
	return new Uint8Array(jpeg.encode(picture as never, quality).data);
}

export const pngOf = ({ width, height }: Scene, light: Uint16Array, depth: 8 | 16): Uint8Array =>
	encodePng({
		width,
		height,
		channels: 1,
		depth,
		data: depth === 16 ? light : Uint8Array.from(light, (one) => one >> 8),
	});

/** A TIFF of one strip, little-endian, not packed. */
export function tiffOf({ width, height }: Scene, light: Uint16Array, depth: 8 | 16): Uint8Array {
	const size = (width * height * depth) / 8;
	const entries: readonly (readonly [tag: number, type: number, value: number])[] = [
		[256, 4, width],
		[257, 4, height],
		[258, 3, depth],
		[259, 3, 1],
		[262, 3, 1],
		[273, 4, 8],
		[277, 3, 1],
		[278, 4, height],
		[279, 4, size],
	];
	const bytes = new Uint8Array(8 + size + 2 + 12 * entries.length + 4);
	const view = new DataView(bytes.buffer);
	bytes.set([0x49, 0x49, 42, 0]);
	view.setUint32(4, 8 + size, true);
	for (let i = 0; i < light.length; i++)
		if (depth === 16) view.setUint16(8 + 2 * i, light[i] as number, true);
		else bytes[8 + i] = (light[i] as number) >> 8;
	view.setUint16(8 + size, entries.length, true);
	entries.forEach(([tag, type, value], i) => {
		const at = 8 + size + 2 + 12 * i;
		view.setUint16(at, tag, true);
		view.setUint16(at + 2, type, true);
		view.setUint32(at + 4, 1, true);
		if (type === 3) view.setUint16(at + 8, value, true);
		else view.setUint32(at + 8, value, true);
	});
	return bytes;
}
