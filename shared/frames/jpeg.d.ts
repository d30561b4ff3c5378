/** The decoder as far as it is used here: its package has no types of its own for it. */
declare module "@jsquash/jpeg/codec/dec/mozjpeg_dec.js" {
	interface Decoder {
		/** An image made by the constructors of that name, or null where it is no JPEG. `turned`: as EXIF says the picture is to be shown. */
		decode(bytes: Uint8Array, turned: boolean): unknown;
	}
	const make: (options: {
		readonly noInitialRun: true;
		readonly locateFile: (name: string) => string;
		/** What the decoder says of a file. */
		readonly printErr: (text: string) => void;
		readonly instantiateWasm: (imports: object, receive: (instance: { readonly exports: object }) => void) => object;
	}) => Promise<Decoder>;
	export default make;
}

/** A program's bytes, as the build puts them into a script. */
declare module "*.wasm" {
	const bytes: Uint8Array<ArrayBuffer>;
	export default bytes;
}
