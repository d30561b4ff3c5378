/** Width and height of a frame in pixels: `6000 x 4000`. */
import { sentences } from "../text/sentence.ts";
import { GAP, template } from "../text/template.ts";
import { clip } from "./node.ts";
import type { Notation, Offer } from "./notation.ts";
import { scalar, unreadable } from "./scalar.ts";
import { readSize, type Size, sizeWithin } from "./size.ts";

const words = sentences("notation.pixel-count", {
	described: "width and height in pixels",
	unreadable: "`{text}` is not a number of pixels. Write width and height, such as `6000 x 4000`.",
});

/** With a gap for either number. */
const sized = (): Offer => ({
	label: "… x …",
	detail: words.described(),
	kind: "value",
	yaml: template`${GAP} x ${GAP}`,
});

const PIXEL_COUNT = scalar<Size>({
	type: "pixel-count",
	describe: words.described,
	readText(text) {
		const size = readSize(text, /^\s?(?:px|pixels)?$/);
		return size?.every(Number.isInteger)
			? sizeWithin(size, 10, 100_000, "px")
			: unreadable(words.unreadable({ text: clip(text) }));
	},
	schema: () => ({ type: "string", pattern: "\\d\\s*(px)?\\s*[x×]\\s*\\d" }),
	complete: ({ source }) => (source === "" ? [sized()] : []),
	colour: "number",
});

/** Width and height in pixels. */
export const pixelCount = (): Notation<Size> => PIXEL_COUNT;
