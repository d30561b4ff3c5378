/// <reference path="./exifr.d.ts" />
/**
 * Photos as light: JPEG by `jpeg-js`, PNG by `fast-png`, TIFF by `geotiff`, the time and the lens a camera wrote into them
 * by `exifr`. Files come from anywhere: what they claim is looked at before anything is made of it, what is packed is
 * unpacked once into nothing to see how much it is, and what goes wrong is an answer. This module is loaded on first use.
 */
import { parse } from "exifr/dist/mini.esm.mjs";
import { decode as decodePng } from "fast-png";
import { Unzlib } from "fflate";
import { fromArrayBuffer } from "geotiff";
import jpeg from "jpeg-js";
// Its way to unpack LZW serves here too.
import "../terrain/geotiff.ts";
import type { Picture } from "./find-stars.ts";

export type PictureProblem =
	| { readonly code: "unknown-format" }
	| { readonly code: "unreadable"; readonly why: string }
	| { readonly code: "too-large"; readonly width: number; readonly height: number }
	| { readonly code: "too-small"; readonly width: number; readonly height: number }
	| { readonly code: "too-much"; readonly megabytes: number }
	| { readonly code: "bits"; readonly bits: number };

/** What a camera wrote into a photo. */
export interface Written {
	/** Clock time as the camera showed it, without a zone: epoch milliseconds as if it were UTC. */
	readonly clock: number | undefined;
	/** Minutes east of UTC, where the camera wrote them. */
	readonly offset: number | undefined;
	/** Seconds and millimetres. */
	readonly exposure: number | undefined;
	readonly focalLength: number | undefined;
}

export interface Photo {
	readonly picture: Picture;
	readonly written: Written;
}

/** Pixels of a frame at most. */
export const MOST_PIXELS = 61_000_000;
/** Of 8 bits in 16. */
const STEP = 256;
const LEAST_SIDE = 200;
/** Bytes of a file at most. */
export const MOST_BYTES = 400_000_000;
const MOST_UNPACKED = 400_000_000;
const MOST_JPEG_MEGABYTES = 900;

/** A photo of a file's bytes. */
export async function readPhoto(bytes: Uint8Array): Promise<Photo | PictureProblem> {
	try {
		const kind = kindOf(bytes);
		if (!kind) return { code: "unknown-format" };
		const picture = kind === "jpeg" ? fromJpeg(bytes) : kind === "png" ? fromPng(bytes) : await fromTiff(bytes);
		return "code" in picture ? picture : { picture, written: await writtenIn(bytes, kind) };
	} catch (error) {
		return { code: "unreadable", why: error instanceof Error ? error.message : String(error) };
	}
}

function kindOf(bytes: Uint8Array): "jpeg" | "png" | "tiff" | undefined {
	const starts = (...first: readonly number[]) => first.every((one, i) => bytes[i] === one);
	if (starts(0xff, 0xd8, 0xff)) return "jpeg";
	if (starts(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a)) return "png";
	return starts(0x49, 0x49, 0x2a, 0) || starts(0x4d, 0x4d, 0, 0x2a) ? "tiff" : undefined;
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

function fromJpeg(bytes: Uint8Array): Picture | PictureProblem {
	const size = jpegSize(bytes);
	const problem = size && sizeProblem(size.width, size.height);
	if (problem) return problem;
	const { width, height, data } = jpeg.decode(bytes, {
		useTArray: true,
		formatAsRGBA: false,
		tolerantDecoding: false,
		maxResolutionInMP: MOST_PIXELS / 1e6,
		maxMemoryUsageInMB: MOST_JPEG_MEGABYTES,
	});
	const after = sizeProblem(width, height);
	if (after) return after;
	const light = new Uint16Array(width * height);
	lightOf(data, 3, width * height, light, 0, false);
	return { width, height, light, step: STEP };
}

/** Width and height of a JPEG as its frame's header has them. */
function jpegSize(bytes: Uint8Array): { readonly width: number; readonly height: number } | undefined {
	for (let at = 2; at + 9 < bytes.length; ) {
		if (bytes[at] !== 0xff) return undefined;
		const marker = bytes[at + 1] as number;
		if (marker === 0xff) {
			at++;
			continue;
		}
		const word = (from: number): number => ((bytes[from] as number) << 8) | (bytes[from + 1] as number);
		if (marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc)
			return { height: word(at + 5), width: word(at + 7) };
		if (marker === 0xda) return undefined;
		at += 2 + word(at + 2);
	}
	return undefined;
}

/** Chunks of a PNG without which there is no picture. */
const NEEDED = new Set(["IHDR", "PLTE", "tRNS", "IDAT", "IEND"]);

function fromPng(bytes: Uint8Array): Picture | PictureProblem {
	const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
	const parts: Uint8Array[] = [bytes.subarray(0, 8)];
	const packed: Uint8Array[] = [];
	let [width, height, depth, colour] = [0, 0, 0, 0];
	for (let at = 8; at + 12 <= bytes.length; ) {
		const length = view.getUint32(at);
		const name = String.fromCharCode(...bytes.subarray(at + 4, at + 8));
		if (at + 12 + length > bytes.length) return { code: "unreadable", why: "it ends too early" };
		if (name === "IHDR" && length >= 13) {
			width = view.getUint32(at + 8);
			height = view.getUint32(at + 12);
			depth = bytes[at + 16] as number;
			colour = bytes[at + 17] as number;
		}
		if (NEEDED.has(name)) parts.push(bytes.subarray(at, at + 12 + length));
		if (name === "IDAT") packed.push(bytes.subarray(at + 8, at + 8 + length));
		at += 12 + length;
		if (name === "IEND") break;
	}
	const problem = sizeProblem(width, height);
	if (problem) return problem;
	if (depth !== 8 && depth !== 16) return { code: "bits", bits: depth };
	const channels = colour === 3 ? 1 : { 0: 1, 2: 3, 4: 2, 6: 4 }[colour];
	if (channels === undefined) return { code: "unreadable", why: "its colours are of no kind that is known" };
	const raw = height * (1 + (width * channels * depth) / 8);
	if (raw > MOST_UNPACKED) return { code: "too-much", megabytes: Math.round(raw / 1e6) };
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
	return { width: png.width, height: png.height, light, step: png.depth === 16 ? 1 : STEP };
}

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
const ROWS_AT_ONCE = 256;

async function fromTiff(bytes: Uint8Array): Promise<Picture | PictureProblem> {
	const buffer = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer;
	const image = await (await fromArrayBuffer(buffer)).getImage();
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
		const of = async (
			name: "TileOffsets" | "TileByteCounts" | "StripOffsets" | "StripByteCounts",
		): Promise<readonly number[]> => Array.from((await fileDirectory.loadValue(name)) as ArrayLike<number>, Number);
		const [from, sizes] = image.isTiled
			? [await of("TileOffsets"), await of("TileByteCounts")]
			: [await of("StripOffsets"), await of("StripByteCounts")];
		for (const [i, start] of from.entries())
			if (unpackedSize([bytes.subarray(start, start + (sizes[i] ?? 0))], blocks + 65_536) > blocks + 65_536)
				return { code: "unreadable", why: "more is packed into it than its size says" };
	}
	const light = new Uint16Array(width * height);
	for (let top = 0; top < height; top += ROWS_AT_ONCE) {
		const bottom = Math.min(height, top + ROWS_AT_ONCE);
		const samples = channels >= 3 ? [0, 1, 2] : [0];
		const data = (await image.readRasters({
			window: [0, top, width, bottom],
			samples,
			interleave: true,
		})) as unknown as ArrayLike<number>;
		lightOf(data, samples.length, width * (bottom - top), light, top * width, bits === 16);
	}
	return { width, height, light, step: bits === 16 ? 1 : STEP };
}

const NOTHING: Written = { clock: undefined, offset: undefined, exposure: undefined, focalLength: undefined };

/** Exif 2.32: DateTimeOriginal, OffsetTimeOriginal, ExposureTime, FocalLength. */
const TAGS = { clock: 0x9003, offset: 0x9011, exposure: 0x829a, focalLength: 0x920a } as const;

async function writtenIn(bytes: Uint8Array, kind: "jpeg" | "png" | "tiff"): Promise<Written> {
	if (kind === "png") return NOTHING;
	try {
		const tags = await parse(bytes, {
			exif: true,
			gps: false,
			interop: false,
			ifd1: false,
			translateKeys: false,
			translateValues: false,
			reviveValues: false,
		});
		const positive = (value: unknown): number | undefined =>
			typeof value === "number" && value > 0 && Number.isFinite(value) ? value : undefined;
		return {
			clock: clockOf(tags?.[TAGS.clock]),
			offset: offsetOf(tags?.[TAGS.offset]),
			exposure: positive(tags?.[TAGS.exposure]),
			focalLength: positive(tags?.[TAGS.focalLength]),
		};
	} catch {
		// A photo without them, or with them damaged: they can be given.
		return NOTHING;
	}
}

/** `2027:06:05 21:30:00`. */
function clockOf(text: unknown): number | undefined {
	const parts = typeof text === "string" ? /^(\d{4}):(\d\d):(\d\d) (\d\d):(\d\d):(\d\d)/.exec(text) : null;
	if (!parts) return undefined;
	const [year = 0, month = 0, day = 0, hour = 0, minute = 0, second = 0] = parts.slice(1).map(Number);
	const at = Date.UTC(year, month - 1, day, hour, minute, second);
	return year > 1900 && Number.isFinite(at) ? at : undefined;
}

/** `+02:00`. */
function offsetOf(text: unknown): number | undefined {
	const parts = typeof text === "string" ? /^([+-])(\d\d):(\d\d)/.exec(text) : null;
	return parts ? (parts[1] === "-" ? -1 : 1) * (60 * Number(parts[2]) + Number(parts[3])) : undefined;
}
