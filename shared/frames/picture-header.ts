/// <reference path="./exifr.d.ts" />
/**
 * What a photo's first bytes tell: its kind, its size, and the time and the lens a camera wrote into it, by `exifr`. Files
 * come from anywhere: nothing of them is unpacked here.
 */
import { parse } from "exifr/dist/mini.esm.mjs";

/** Pixels of a photo at most. */
export const MOST_PIXELS = 61_000_000;

export type PictureKind = "jpeg" | "png" | "tiff";

/** What a file's first bytes say it is. */
export function kindOf(bytes: Uint8Array): PictureKind | undefined {
	const starts = (...first: readonly number[]) => first.every((one, i) => bytes[i] === one);
	if (starts(0xff, 0xd8, 0xff)) return "jpeg";
	if (starts(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a)) return "png";
	return starts(0x49, 0x49, 0x2a, 0) || starts(0x4d, 0x4d, 0, 0x2a) ? "tiff" : undefined;
}

/** What a camera wrote into a photo. */
export interface Written {
	/** Clock time as the camera showed it, without a zone: epoch milliseconds as if it were UTC. */
	readonly clock: number | undefined;
	/** Minutes east of UTC, where the camera wrote them. */
	readonly offset: number | undefined;
	/** Seconds and millimetres. */
	readonly exposure: number | undefined;
	readonly focalLength: number | undefined;
	/** What a lens of the same field on 36 × 24 mm has, millimetres. */
	readonly fullFrameFocalLength: number | undefined;
	/** How the picture is turned, 1 to 8 as Exif counts; from 5 on it lies on its side. */
	readonly orientation: number | undefined;
}

/** Width and height of a JPEG as its frame's header has them; undefined where that is not in these bytes. */
export function jpegSize(bytes: Uint8Array): { readonly width: number; readonly height: number } | undefined {
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

/** Width and height of a PNG as its first chunk has them; undefined where it does not come first. */
export function pngSize(bytes: Uint8Array): { readonly width: number; readonly height: number } | undefined {
	if (bytes.length < 24 || String.fromCharCode(...bytes.subarray(12, 16)) !== "IHDR") return undefined;
	const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
	return { width: view.getUint32(16), height: view.getUint32(20) };
}

/** Of a photo into which no camera wrote. */
export const NOTHING_WRITTEN: Written = {
	clock: undefined,
	offset: undefined,
	exposure: undefined,
	focalLength: undefined,
	fullFrameFocalLength: undefined,
	orientation: undefined,
};

/** Exif 2.32: DateTimeOriginal, OffsetTimeOriginal, ExposureTime, FocalLength, FocalLengthIn35mmFilm, Orientation. */
const TAGS = {
	clock: 0x9003,
	offset: 0x9011,
	exposure: 0x829a,
	focalLength: 0x920a,
	fullFrameFocalLength: 0xa405,
	orientation: 0x0112,
} as const;

/** What a camera wrote into a file, of which the first part will do; nothing where it did not, or not readably. */
export async function writtenIn(bytes: Uint8Array, kind: PictureKind): Promise<Written> {
	if (kind === "png") return NOTHING_WRITTEN;
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
			fullFrameFocalLength: positive(tags?.[TAGS.fullFrameFocalLength]),
			orientation: positive(tags?.[TAGS.orientation]),
		};
	} catch {
		// A photo without them, or with them damaged: they can be given.
		return NOTHING_WRITTEN;
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
