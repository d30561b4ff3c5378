/**
 * Elevation tiles in GeoTIFF: one band of heights in metres, whole or floating, over geographic coordinates in degrees
 * (OGC 19-008r4, GeoTIFF 1.1). Read by `geotiff` (MIT), without what it could fetch.
 */
import { addDecoder, BaseDecoder, fromArrayBuffer, type GeoTIFFImage } from "geotiff";
import { unpackLzw } from "./lzw.ts";
import { groundOnly, type NoGround, type Tile, VOID } from "./tile.ts";

export type GeoTiffProblem =
	| { readonly code: "unreadable"; readonly name: string; readonly why: string }
	| { readonly code: "short"; readonly name: string }
	| { readonly code: "projected"; readonly name: string }
	| { readonly code: "not-placed"; readonly name: string }
	| { readonly code: "incomplete"; readonly name: string; readonly rows: number; readonly columns: number }
	| { readonly code: "too-large"; readonly name: string; readonly rows: number; readonly columns: number }
	| { readonly code: "too-small"; readonly name: string; readonly rows: number; readonly columns: number }
	| NoGround;

/** Heights of a tile at most: four of a degree each way at 1″. */
const MOST_HEIGHTS = 4 * 3601 * 3601;

/** From here on a value can only stand for no data, whether the file says so or not: 9.97e36, −3.4e38. */
const NO_HEIGHT = 1e6;

/** `GTModelTypeGeoKey`: geographic latitude and longitude. */
const GEOGRAPHIC = 2;
/** `GTRasterTypeGeoKey`: a height stands for a point, not for an area. */
const IS_POINT = 2;

/** `Compression`: LZW. */
const LZW = 5;

addDecoder(
	LZW,
	async () =>
		class extends BaseDecoder {
			override decodeBlock(packed: ArrayBuffer): ArrayBuffer {
				const { tileWidth, tileHeight, bitsPerSample, planarConfiguration } = this.parameters;
				const bits = typeof bitsPerSample === "number" ? [bitsPerSample] : Array.from(bitsPerSample);
				const samples = planarConfiguration === 2 ? bits.slice(0, 1) : bits;
				const bytes = (tileWidth * tileHeight * samples.reduce((sum, one) => sum + one, 0)) / 8;
				if (!(bytes <= 8 * MOST_HEIGHTS)) throw new Error("its blocks are too large");
				return unpackLzw(new Uint8Array(packed), bytes).buffer as ArrayBuffer;
			}
		},
);

/** A tile of a file's name and bytes. What is wrong with the bytes is an answer, not an error. */
export async function readGeoTiff(name: string, bytes: ArrayBuffer): Promise<Tile | GeoTiffProblem> {
	try {
		const image = await (await fromArrayBuffer(bytes)).getImage();
		return await tileOf(name, image);
	} catch (error) {
		// It points to what is behind its end.
		if (error instanceof RangeError && /bounds/i.test(error.message)) return { code: "short", name };
		return { code: "unreadable", name, why: error instanceof Error ? error.message : String(error) };
	}
}

async function tileOf(name: string, image: GeoTIFFImage): Promise<Tile | GeoTiffProblem> {
	const [rows, columns] = [image.getHeight(), image.getWidth()];
	if (rows < 2 || columns < 2) return { code: "too-small", name, rows, columns };
	if (rows * columns > MOST_HEIGHTS) return { code: "too-large", name, rows, columns };
	const keys = image.getGeoKeys();
	if (keys?.GTModelTypeGeoKey !== GEOGRAPHIC) return { code: "projected", name };
	const place = placeOf(image);
	if (!place) return { code: "not-placed", name };
	// An area's height is that of its middle.
	const half = keys.GTRasterTypeGeoKey === IS_POINT ? 0 : 0.5;
	const [band] = (await image.readRasters({ samples: [0] })) as unknown as [ArrayLike<number>];
	if (band.length !== rows * columns) return { code: "incomplete", name, rows, columns };
	const noData = image.getGDALNoData();
	const heights = Float32Array.from(band, (one) => (one === noData || !(Math.abs(one) < NO_HEIGHT) ? VOID : one));
	return groundOnly({
		name,
		north: place.north - half * place.latitudeStep,
		west: place.west + half * place.longitudeStep,
		latitudeStep: place.latitudeStep,
		longitudeStep: place.longitudeStep,
		rows,
		columns,
		heights,
	});
}

/** Where the image's north-west corner is, degrees, and how far its heights are apart: undefined where north is not up. */
function placeOf({ fileDirectory }: GeoTIFFImage) {
	const scale: ArrayLike<number> | undefined = fileDirectory.getValue("ModelPixelScale");
	const tie: ArrayLike<number> | undefined = fileDirectory.getValue("ModelTiepoint");
	const matrix: ArrayLike<number> | undefined = fileDirectory.getValue("ModelTransformation");
	let [west, north, longitudeStep, latitudeStep] = [Number.NaN, Number.NaN, Number.NaN, Number.NaN];
	if (scale && tie) {
		const [column = 0, row = 0, , x = Number.NaN, y = Number.NaN] = Array.from(tie);
		[longitudeStep = Number.NaN, latitudeStep = Number.NaN] = Array.from(scale);
		[west, north] = [x - column * longitudeStep, y + row * latitudeStep];
	} else if (matrix && matrix[1] === 0 && matrix[4] === 0) {
		[longitudeStep, latitudeStep] = [matrix[0] ?? Number.NaN, -(matrix[5] ?? Number.NaN)];
		[west, north] = [matrix[3] ?? Number.NaN, matrix[7] ?? Number.NaN];
	}
	const isPlace = latitudeStep > 0 && longitudeStep > 0 && Math.abs(north) <= 91 && Math.abs(west) <= 361;
	return isPlace ? { north, west, latitudeStep, longitudeStep } : undefined;
}
