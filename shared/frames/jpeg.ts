/// <reference path="./jpeg.d.ts" />
/**
 * A JPEG's pixels, by the decoder of `@jsquash/jpeg` (mozjpeg in WebAssembly). Each photo has an instance of its own, which
 * is let go of with all its memory; the build (esbuild.config.mjs, `unused`) leaves out of it whatever would fetch.
 */
import makeDecoder from "@jsquash/jpeg/codec/dec/mozjpeg_dec.js";
import program from "@jsquash/jpeg/codec/dec/mozjpeg_dec.wasm";

/** Passes over the whole picture, at most: cameras and programs write up to a dozen, each takes time whatever it holds. */
const MOST_SCANS = 100;

/** What is used of a global that every runtime has and no common library of types describes. */
const { WebAssembly } = globalThis as unknown as {
	readonly WebAssembly: {
		readonly compile: (bytes: Uint8Array) => Promise<object>;
		readonly Instance: new (compiled: object, imports: object) => { readonly exports: object };
	};
};

let compiled: object | undefined;

/**
 * What `use` makes of the pixels: red, green, blue and 255 of each, row by row as the sensor saw them, not turned as EXIF says.
 * They lie in the decoder's memory, and are gone once it returns: a copy of 60 megapixels is
 * 240 MB more. Throws an `Error` that says why where the bytes are no whole JPEG; a damaged part of a whole one comes out grey.
 */
export async function decodeJpeg<Made extends object>(
	bytes: Uint8Array,
	use: (data: Uint8Array, width: number, height: number) => Made,
): Promise<Made> {
	if (scansOf(bytes) > MOST_SCANS) throw new Error(`it goes over its picture more than ${MOST_SCANS} times`);
	const ready = compiled ?? (await WebAssembly.compile(program));
	compiled = ready;
	const said: string[] = [];
	const decoder = await makeDecoder({
		noInitialRun: true,
		// It is handed over below, and looked for nowhere.
		locateFile: () => "",
		printErr: (text) => said.push(text),
		instantiateWasm: (imports, receive) => {
			const instance = new WebAssembly.Instance(ready, imports);
			receive(instance);
			return instance.exports;
		},
	});
	let made: Made | undefined;
	try {
		handedOver(
			() => decoder.decode(bytes, false),
			(data, width, height) => {
				made = use(data, width, height);
			},
		);
	} catch {
		// Where it cannot go on it ends its program; why, it has said.
	}
	if (said.some((text) => text.startsWith("Premature end"))) throw new Error("it ends too early");
	if (made) return made;
	throw new Error(`the JPEG decoder says “${said.at(-1) ?? "nothing"}”`);
}

/**
 * The decoder makes its picture by two constructors that it looks up by their names: of an array, which copies, and of an
 * image. While it decodes, which nothing interrupts, the first gives what it was given, and the second hands that over.
 */
function handedOver(decode: () => void, take: (data: Uint8Array, width: number, height: number) => void): void {
	const world = globalThis as unknown as Record<"Uint8ClampedArray" | "ImageData", unknown>;
	const { Uint8ClampedArray: array, ImageData: image } = world;
	world.Uint8ClampedArray = function Same(data: Uint8Array) {
		return data;
	};
	world.ImageData = function Taken(data: Uint8Array, width: number, height: number) {
		take(data, width, height);
	};
	try {
		decode();
	} finally {
		world.Uint8ClampedArray = array;
		world.ImageData = image;
	}
}

/** Starts of scans, those of a thumbnail among them: inside a scan's data no such pair of bytes stands. */
function scansOf(bytes: Uint8Array): number {
	let scans = 0;
	for (let at = bytes.indexOf(0xff); at >= 0; at = bytes.indexOf(0xff, at + 1)) if (bytes[at + 1] === 0xda) scans++;
	return scans;
}
