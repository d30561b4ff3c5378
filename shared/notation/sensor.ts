/** Sensor sizes: `36 x 24 mm`, or the name of a format, `full-frame`. */

import { eitherText } from "../text/list.ts";
import { nearestWord } from "../text/nearest.ts";
import { sentences } from "../text/sentence.ts";
import { clip } from "./node.ts";
import type { Notation } from "./notation.ts";
import { Refused, scalar, unreadable } from "./scalar.ts";
import { readSize, type Size, sizeWithin } from "./size.ts";

const words = sentences("notation.sensor", {
	described: "a sensor size or format",
	unreadable: "`{text}` is not a sensor size. Write width and height, such as `36 x 24 mm`, or one of {formats}.",
});

/** Sensor formats by name, width and height in millimetres. Nominal sizes, common practice; makers differ by 0.5 mm. */
const FORMATS: Readonly<Record<string, Size>> = {
	"full-frame": [36, 24],
	"aps-c": [23.5, 15.6],
	"micro-four-thirds": [17.3, 13],
	"medium-format-44x33": [43.8, 32.9],
	"one-inch": [13.2, 8.8],
};
const NAMES = Object.keys(FORMATS);

/** Millimetres; undefined where the text says none, or one that is too small or too large. */
export function readSensor(text: string): Size | undefined {
	const size = sensorIn(text);
	return size instanceof Refused ? undefined : size;
}

function sensorIn(text: string): Size | Refused | undefined {
	const name = text.trim();
	const format = FORMATS[name];
	if (format && Object.hasOwn(FORMATS, name)) return format;
	const size = readSize(text, /^\s?(?:mm)?$/);
	return size && sizeWithin(size, 1, 200, "mm");
}

const SENSOR = scalar<Size>({
	type: "sensor",
	describe: words.described,
	readText(text) {
		const size = sensorIn(text);
		if (size) return size;
		const nearest = /[a-z]{3}/i.test(text) ? nearestWord(text, NAMES) : undefined;
		return unreadable(words.unreadable({ text: clip(text), formats: eitherText(NAMES) }), nearest);
	},
	schema: () => ({
		type: "string",
		anyOf: [{ enum: NAMES }, { pattern: "\\d\\s*(mm)?\\s*[x×]\\s*\\d" }],
	}),
	complete: () =>
		Object.entries(FORMATS).map(([name, [width, height]]) => ({
			label: name,
			detail: `${width} x ${height} mm`,
			kind: "word",
		})),
	colour: "number",
});

/** Width and height in millimetres. */
export const sensorSize = (): Notation<Size> => SENSOR;
