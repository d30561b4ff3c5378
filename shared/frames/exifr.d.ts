/** The part of `exifr` that reads EXIF of JPEG and TIFF, as it is used here. */
declare module "exifr/dist/mini.esm.mjs" {
	export function parse(
		bytes: Uint8Array,
		options: Readonly<
			Record<"exif" | "gps" | "interop" | "ifd1" | "translateKeys" | "translateValues" | "reviveValues", boolean>
		>,
	): Promise<Readonly<Record<number, unknown>> | undefined>;
}
