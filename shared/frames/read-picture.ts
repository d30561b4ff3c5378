/**
 * Photos as light: JPEG by `@jsquash/jpeg`, interlaced PNG by `fast-png`, other PNG by rows, TIFF by `geotiff` but for
 * strips that are not packed. Files come from anywhere: what they claim is looked at before anything is made of it, what is
 * packed is unpacked a piece at a time, or once into nothing to see how much it is, and what goes wrong is an answer. A photo
 * of 60 megapixels is as large as all the memory that is allowed, and nothing of it is copied as a whole. This module is
 * loaded on first use.
 */
import { decode as decodePng } from "fast-png";
import { Unzlib } from "fflate";
import { fromArrayBuffer, type GeoTIFFImage } from "geotiff";
// Its way to unpack LZW serves here too.
import "../terrain/geotiff.ts";
import type { Picture } from "./find-stars.ts";
import { decodeJpeg } from "./jpeg.ts";
import { jpegSize, kindOf, MOST_PIXELS, type Written, writtenIn } from "./picture-header.ts";
import { pngRows } from "./png-rows.ts";

export type PictureProblem =
	| { readonly code: "unknown-format" }
	| { readonly code: "unreadable"; readonly why: string }
	| { readonly code: "too-large"; readonly width: number; readonly height: number }
	| { readonly code: "too-small"; readonly width: number; readonly height: number }
	| { readonly code: "too-much"; readonly megabytes: number }
	| { readonly code: "bits"; readonly bits: number };

export interface Photo {
	readonly picture: Picture;
	readonly written: Written;
}

/** Of 8 bits in 16. */
const STEP = 256;
const LEAST_SIDE = 200;
/** Bytes of a file at most. */
export const MOST_BYTES = 400_000_000;
const MOST_UNPACKED = 400_000_000;

/** A photo of a file's bytes. */
export async function readPhoto(bytes: Uint8Array): Promise<Photo | PictureProblem> {
	try {
		const kind = kindOf(bytes);
		if (!kind) return { code: "unknown-format" };
		const picture = kind === "jpeg" ? await fromJpeg(bytes) : kind === "png" ? fromPng(bytes) : await fromTiff(bytes);
		return "code" in picture ? picture : { picture, written: await writtenIn(bytes, kind) };
	} catch (error) {
		return { code: "unreadable", why: error instanceof Error ? error.message : String(error) };
	}
}

function sizeProblem(width: number, height: number): PictureProblem | undefined {
	if (!(width * height <= MOST_PIXELS)) return { code: "too-large", width, height };
	return width < LEAST_SIDE || height < LEAST_SIDE ? { code: "too-small", width, height } : undefined;
}

/** Light of red, green and blue as the eye weighs it (ITU-R BT.601), 16 bits from `depth` bits. */
function lightOf(
	data: ArrayLike<number>,
	channels: number,
	count: number,
	into: Uint16Array,
	at: number,
	deep: boolean,
): void {
	const [r, g, b] = deep ? [0.299, 0.587, 0.114] : [77, 150, 29];
	const alone = deep ? 1 : 256;
	if (channels < 3) for (let i = 0; i < count; i++) into[at + i] = (data[i * channels] as number) * alone;
	else
		for (let i = 0, k = 0; i < count; i++, k += channels)
			into[at + i] = r * (data[k] as number) + g * (data[k + 1] as number) + b * (data[k + 2] as number);
}

async function fromJpeg(bytes: Uint8Array): Promise<Picture | PictureProblem> {
	const size = jpegSize(bytes);
	if (!size) return { code: "unreadable", why: "it does not say how large it is" };
	const problem = sizeProblem(size.width, size.height);
	if (problem) return problem;
	return decodeJpeg(bytes, (data, width, height): Picture | PictureProblem => {
		const after = sizeProblem(width, height);
		if (after) return after;
		const light = new Uint16Array(width * height);
		lightOf(data, 4, width * height, light, 0, false);
		return { width, height, light, step: STEP };
	});
}

/** Whether 16 bits hold 8: as their high end alone, or twice. */
function isOfBytes(data: ArrayLike<number>): boolean {
	let [high, twice] = [true, true];
	for (let i = 0; i < data.length && (high || twice); i++) {
		const value = data[i] as number;
		high &&= (value & 255) === 0;
		twice &&= (value & 255) === value >> 8;
	}
	return high || twice;
}

/** 8, 12 or 14 bits that a program left at the low end of 16: lifted to the high end. What a step is then. */
function lifted(light: Uint16Array): number {
	let most = 0;
	for (const one of light) if (one > most) most = one;
	if (most === 0) return 1;
	const by = 2 ** Math.floor(Math.log2(65_535 / most));
	if (by > 1) for (let i = 0; i < light.length; i++) light[i] = (light[i] as number) * by;
	return by;
}

/** Chunks of a PNG without which there is no picture. */
const NEEDED = new Set(["IHDR", "PLTE", "tRNS", "IDAT", "IEND"]);

function fromPng(bytes: Uint8Array): Picture | PictureProblem {
	const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
	const parts: Uint8Array[] = [bytes.subarray(0, 8)];
	const packed: Uint8Array[] = [];
	let [width, height, depth, colour, interlaced] = [0, 0, 0, 0, 0];
	let palette = bytes.subarray(0, 0);
	for (let at = 8; at + 12 <= bytes.length; ) {
		const length = view.getUint32(at);
		const name = String.fromCharCode(...bytes.subarray(at + 4, at + 8));
		if (at + 12 + length > bytes.length) return { code: "unreadable", why: "it ends too early" };
		if (name === "IHDR" && length >= 13) {
			width = view.getUint32(at + 8);
			height = view.getUint32(at + 12);
			depth = bytes[at + 16] as number;
			colour = bytes[at + 17] as number;
			interlaced = bytes[at + 20] as number;
		}
		if (name === "PLTE") palette = bytes.subarray(at + 8, at + 8 + length);
		if (NEEDED.has(name)) parts.push(bytes.subarray(at, at + 12 + length));
		if (name === "IDAT") packed.push(bytes.subarray(at + 8, at + 8 + length));
		at += 12 + length;
		if (name === "IEND") break;
	}
	const problem = sizeProblem(width, height);
	if (problem) return problem;
	if (depth !== 8 && depth !== 16) return { code: "bits", bits: depth };
	const channels = colour === 3 ? 1 : { 0: 1, 2: 3, 4: 2, 6: 4 }[colour];
	if (channels === undefined || (colour === 3 && (depth === 16 || palette.length === 0)))
		return { code: "unreadable", why: "its colours are of no kind that is known" };
	const raw = height * (1 + (width * channels * depth) / 8);
	if (raw > MOST_UNPACKED) return { code: "too-much", megabytes: Math.round(raw / 1e6) };
	if (interlaced === 0) return fromRows(packed, { width, height, depth, channels }, colour === 3 ? palette : undefined);
	// Interlaced rows take a little more.
	if (unpackedSize(packed, 1.1 * raw + 1e6) > 1.1 * raw + 1e6)
		return { code: "unreadable", why: "more is packed into it than its size says" };
	const whole = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
	let to = 0;
	for (const part of parts) {
		whole.set(part, to);
		to += part.length;
	}
	const png = decodePng(whole);
	const light = new Uint16Array(png.width * png.height);
	if (png.palette) {
		const levels = png.palette.map(([r = 0, g = 0, b = 0]) => 77 * r + 150 * g + 29 * b);
		for (let i = 0; i < light.length; i++) light[i] = levels[png.data[i] as number] ?? 0;
	} else lightOf(png.data, png.channels, light.length, light, 0, png.depth === 16);
	return {
		width: png.width,
		height: png.height,
		light,
		step: png.depth === 8 || isOfBytes(png.data) ? STEP : lifted(light),
	};
}

/** Light of rows that are not interlaced, without ever having all their pixels at once. */
function fromRows(
	packed: readonly Uint8Array[],
	{ width, height, depth, channels }: Record<"width" | "height" | "depth" | "channels", number>,
	palette: Uint8Array | undefined,
): Picture | PictureProblem {
	const light = new Uint16Array(width * height);
	const levels = palette && Array.from({ length: Math.floor(palette.length / 3) }, (_, i) => levelOf(palette, 3 * i));
	const rows = lightByRows(light, { width, channels, deep: depth === 16, lowFirst: false });
	const pixel = (channels * depth) / 8;
	const whole = pngRows(packed, { length: width * pixel, height, pixel }, (row, index) => {
		if (levels) for (let i = 0; i < width; i++) light[index * width + i] = levels[row[i] as number] ?? 0;
		else rows.put(row, 0, index);
	});
	return whole ? { width, height, light, step: rows.step() } : { code: "unreadable", why: "it ends too early" };
}

/** Light that is made of rows of samples as they lie in a file. `deep`: of two bytes each; `lowFirst`: their order. */
function lightByRows(
	light: Uint16Array,
	{
		width,
		channels,
		deep,
		lowFirst,
	}: { readonly width: number; readonly channels: number; readonly deep: boolean; readonly lowFirst: boolean },
): { readonly put: (bytes: Uint8Array, from: number, row: number) => void; readonly step: () => number } {
	const samples = new Uint16Array(deep ? width * channels : 0);
	const [high, low] = lowFirst ? [1, 0] : [0, 1];
	let ofBytes = true;
	return {
		put(bytes, from, row) {
			if (!deep)
				return lightOf(bytes.subarray(from, from + width * channels), channels, width, light, row * width, false);
			for (let i = 0, at = from; i < samples.length; i++, at += 2)
				samples[i] = ((bytes[at + high] as number) << 8) | (bytes[at + low] as number);
			ofBytes &&= isOfBytes(samples);
			lightOf(samples, channels, width, light, row * width, true);
		},
		step: () => (!deep || ofBytes ? STEP : lifted(light)),
	};
}

/** Light of a colour of 8 bits, as `lightOf` has it. */
const levelOf = (data: ArrayLike<number>, at: number): number =>
	77 * (data[at] ?? 0) + 150 * (data[at + 1] ?? 0) + 29 * (data[at + 2] ?? 0);

/** Bytes that are packed by zlib, counted as far as a limit. */
function unpackedSize(parts: readonly Uint8Array[], limit: number): number {
	let size = 0;
	const unpacker = new Unzlib((chunk) => {
		size += chunk.length;
	});
	for (const part of parts)
		for (let at = 0; at < part.length && size <= limit; at += 32_768)
			unpacker.push(part.subarray(at, Math.min(part.length, at + 32_768)));
	return size;
}

/** `Compression`: zlib, by its two numbers. */
const ZLIB = new Set([8, 32946]);
const ROWS_AT_ONCE = 64;

/** A buffer of these bytes alone; of a whole file no copy, which can be as large as all the rest. */
function bufferOf({ buffer, byteOffset, byteLength }: Uint8Array): ArrayBuffer {
	const whole = byteOffset === 0 && byteLength === buffer.byteLength && buffer instanceof ArrayBuffer;
	return whole ? buffer : (buffer.slice(byteOffset, byteOffset + byteLength) as ArrayBuffer);
}

const placesOf = async (
	{ fileDirectory }: Pick<GeoTIFFImage, "fileDirectory">,
	name: "TileOffsets" | "TileByteCounts" | "StripOffsets" | "StripByteCounts",
): Promise<readonly number[]> => Array.from((await fileDirectory.loadValue(name)) as ArrayLike<number>, Number);

/** The first byte of a TIFF whose numbers begin with their low ends. */
const LITTLE_ENDIAN = 0x49;

async function fromTiff(bytes: Uint8Array): Promise<Picture | PictureProblem> {
	const image = await (await fromArrayBuffer(bufferOf(bytes))).getImage();
	const [width, height] = [image.getWidth(), image.getHeight()];
	const problem = sizeProblem(width, height);
	if (problem) return problem;
	const channels = image.getSamplesPerPixel();
	const bits = image.getBitsPerSample();
	if (bits !== 8 && bits !== 16) return { code: "bits", bits };
	if (channels > 5) return { code: "unreadable", why: `it has ${channels} channels` };
	const { fileDirectory } = image;
	const compression: number = fileDirectory.getValue("Compression") ?? 1;
	const blocks = image.getTileWidth() * image.getTileHeight() * channels * (bits / 8);
	if (!(blocks <= MOST_UNPACKED)) return { code: "too-much", megabytes: Math.round(blocks / 1e6) };
	if (ZLIB.has(compression)) {
		const [from, sizes] = image.isTiled
			? [await placesOf(image, "TileOffsets"), await placesOf(image, "TileByteCounts")]
			: [await placesOf(image, "StripOffsets"), await placesOf(image, "StripByteCounts")];
		for (const [i, start] of from.entries())
			if (unpackedSize([bytes.subarray(start, start + (sizes[i] ?? 0))], blocks + 65_536) > blocks + 65_536)
				return { code: "unreadable", why: "more is packed into it than its size says" };
	}
	const light = new Uint16Array(width * height);
	let ofBytes = true;
	// As it lies in the file: a copy of each strip is as much again as the file until the memory is cleared.
	if (compression === 1 && !image.isTiled && image.planarConfiguration === 1 && image.getSampleFormat() === 1) {
		const starts = await placesOf(image, "StripOffsets");
		const perStrip = image.getTileHeight();
		const rows = lightByRows(light, { width, channels, deep: bits === 16, lowFirst: bytes[0] === LITTLE_ENDIAN });
		const length = (width * channels * bits) / 8;
		for (let y = 0; y < height; y++) {
			const from = (starts[Math.floor(y / perStrip)] ?? bytes.length) + (y % perStrip) * length;
			if (!(from + length <= bytes.length)) return { code: "unreadable", why: "it ends too early" };
			rows.put(bytes, from, y);
		}
		return { width, height, light, step: rows.step() };
	}
	for (let top = 0; top < height; top += ROWS_AT_ONCE) {
		const bottom = Math.min(height, top + ROWS_AT_ONCE);
		const samples = channels >= 3 ? [0, 1, 2] : [0];
		const data = (await image.readRasters({
			window: [0, top, width, bottom],
			samples,
			interleave: true,
		})) as unknown as ArrayLike<number>;
		ofBytes &&= bits === 16 && isOfBytes(data);
		lightOf(data, samples.length, width * (bottom - top), light, top * width, bits === 16);
	}
	return { width, height, light, step: bits === 8 || ofBytes ? STEP : lifted(light) };
}
