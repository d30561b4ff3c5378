/** Bearings: `134`, `134°`, `134°T` are true, `134°M` is magnetic (navigators' notation), `SSE` is a compass point. */
import { turn } from "../sky/vector.ts";
import { asYaml, type Given } from "../text/scalar.ts";
import { sentences } from "../text/sentence.ts";
import { clip } from "./node.ts";
import type { Notation } from "./notation.ts";
import { NUMBER_PATTERN, readNumber } from "./number.ts";
import { offerEndings, scalar, unreadable } from "./scalar.ts";

const words = sentences("notation.bearing", {
	described: "a bearing",
	fromTrue: "from true north",
	fromMagnetic: "by the compass",
	unreadable: `\`{text}\` is not a bearing. Write degrees from 0 to 360 (\`134\` or \`134°T\` true, \`134°M\` magnetic) or
		a compass point (\`SSE\`).`,
	asTrue: "Convert to true: {bearing}",
	asMagnetic: "Convert to magnetic: {bearing}",
});

export interface Bearing {
	/** Degrees from north through east, 0 ≤ degrees < 360. */
	readonly degrees: number;
	/** What north is meant. A compass point is true. */
	readonly north: "true" | "magnetic";
}

/** The 32 points, north through east, 11.25° apart. */
const POINTS =
	"N NbE NNE NEbN NE NEbE ENE EbN E EbS ESE SEbE SE SEbS SSE SbE S SbW SSW SWbS SW SWbW WSW WbS W WbN WNW NWbW NW NWbN NNW NbW".split(
		" ",
	);

const pointDegrees = new Map(POINTS.map((point, i) => [point.toUpperCase(), i * 11.25]));

const BEARING = scalar<Bearing>({
	type: "bearing",
	describe: words.described,
	readText: (text) => readBearing(text) ?? unreadable(words.unreadable({ text: clip(text) }), bearingMeant(text)),
	schema: () => ({
		anyOf: [
			{ type: "number", minimum: 0, maximum: 360 },
			{
				type: "string",
				pattern: `^\\s*(${NUMBER_PATTERN}\\s?(°|deg)?\\s?[TM]?|[NESWnesw]{1,3}([bB][NESWnesw])?)\\s*$`,
			},
		],
	}),
	colour: "number",
	complete: (context) =>
		offerEndings(
			context,
			[
				{ ending: "°", detail: words.fromTrue() },
				{ ending: "°M", detail: words.fromMagnetic() },
			],
			/^\d[\d.]*$/,
		),
	rewrite(source, { declination }) {
		const read = readBearing(source);
		if (!read || declination === undefined) return [];
		if (read.north === "true") {
			const text = bearingWords(read.degrees - declination, "magnetic");
			return [{ title: words.asMagnetic({ bearing: text }), text }];
		}
		const text = bearingWords(read.degrees + declination, "true");
		return [{ title: words.asTrue({ bearing: text }), text }];
	},
});

/** A bearing: degrees from north through east, or a point of the compass; `M` for magnetic. */
export const bearing = (): Notation<Bearing> => BEARING;

/** A bearing beyond the circle, in it. */
function bearingMeant(text: string): Given | undefined {
	const number = readNumber(text.trim());
	const inside = number && Math.abs(number.value) <= 720 ? `${inCircle(number.value)}${number.rest}` : "";
	return readBearing(inside) ? asYaml(inside) : undefined;
}

/** Degrees from 0 to 360 in the same direction. */
export const inCircle = (degrees: number): number => Number(turn(degrees).toFixed(6));

/** Reads a bearing, or undefined when it is none. Numbers outside 0 … 360 are none. */
export function readBearing(text: string): Bearing | undefined {
	const trimmed = text.trim();
	const point = pointDegrees.get(trimmed.toUpperCase());
	if (point !== undefined) return { degrees: point, north: "true" };
	const number = readNumber(trimmed);
	if (!number || number.value < 0 || number.value > 360) return undefined;
	const suffix = /^\s?(?:°|deg)?\s?([TM]?)$/.exec(number.rest);
	if (!suffix) return undefined;
	return { degrees: number.value % 360, north: suffix[1] === "M" ? "magnetic" : "true" };
}

/** The nearest of the 16 main compass points, for example `SSE` for 158°. */
export function compassPoint(degrees: number): string {
	return POINTS[(Math.round(turn(degrees) / 22.5) % 16) * 2] as string;
}

/** A bearing with three figures and one decimal, as it is read out: `004.5°`. */
export function bearingText(value: number): string {
	const rounded = (Math.round(turn(value) * 10) / 10) % 360;
	return `${rounded.toFixed(1).padStart(5, "0")}°`;
}

/** `004.5°T`, of true north. */
export const trueBearingText = (value: number): string => `${bearingText(value)}T`;

/** `004°M`, as a compass is read: to a whole degree; `004°T` of one that shows true north. */
export function compassText(value: number, north: "true" | "magnetic" = "magnetic"): string {
	const whole = Math.round(turn(value)) % 360;
	return `${String(whole).padStart(3, "0")}°${north === "true" ? "T" : "M"}`;
}

/** What a hand turns to: `027°M (000.0°T)`, the compass reading first; the true bearing alone where the declination is not known. */
export const bearingToSet = (bearing: number, declination: number | undefined): string =>
	declination === undefined
		? trueBearingText(bearing)
		: `${compassText(bearing - declination)} (${trueBearingText(bearing)})`;

/** `004.5° (N)`. */
export const bearingWithPoint = (value: number): string => `${bearingText(value)} (${compassPoint(value)})`;

/** As a plan writes it: `134.5°` true, `158.6°M` magnetic. */
export function bearingWords(degrees: number, north: "true" | "magnetic"): string {
	const rounded = Number(turn(degrees).toFixed(1)) % 360;
	return `${rounded}°${north === "magnetic" ? "M" : ""}`;
}
