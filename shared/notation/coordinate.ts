/**
 * Coordinates: signed decimals (`-32.4123`), a letter (`32.4123 S`), or degrees, minutes and seconds
 * (`32° 24′ 44″ S`, `32 24 44 S`). Latitude north positive, longitude east positive.
 */
import { sentences } from "../text/sentence.ts";
import { clip } from "./node.ts";
import type { Notation } from "./notation.ts";
import { readNumber } from "./number.ts";
import { offerEndings, outOfRange, type Refused, scalar, unreadable } from "./scalar.ts";

const words = sentences("notation.coordinate", {
	latitude: "a latitude",
	longitude: "a longitude",
	north: "north of the equator",
	south: "south of the equator",
	east: "east of Greenwich",
	west: "west of Greenwich",
	noLatitude: "`{text}` is not a latitude. Write it as `32.4123 S`, `-32.4123` or `32° 24′ 44″ S`.",
	noLongitude: "`{text}` is not a longitude. Write it as `54.3622 W`, `-54.3622` or `54° 21′ 44″ W`.",
	otherThanLatitude: "`{text}` has the letter of a longitude; a latitude ends in N or S. Are the two swapped?",
	otherThanLongitude: "`{text}` has the letter of a latitude; a longitude ends in E or W. Are the two swapped?",
	pair: "`{text}` is a latitude and a longitude. Give each its own key.",
	twoSigns: "`{text}` has both a minus sign and a letter. Keep one of them.",
	minutes: "`{text}` has minutes or seconds of 60 or more. Use less than 60.",
	otherwise: "Convert to {coordinate}",
});

export type Axis = "latitude" | "longitude";

export type CoordinateReading =
	| { readonly ok: true; readonly degrees: number; readonly letter: "N" | "S" | "E" | "W" | undefined }
	| {
			readonly ok: false;
			readonly why: "unreadable" | "other-axis" | "two-signs" | "out-of-range" | "minutes";
			readonly degrees?: number;
	  };

const LIMIT: Record<Axis, number> = { latitude: 90, longitude: 180 };
/** What a schema can tell of a coordinate in words: a digit, no letter of the other axis, not both a minus and a letter. */
const FORM = {
	latitude: "^(?=.*\\d)(?![EWew]|.*[EWew]\\s*$)(?![-−].*[NSns]\\s*$)",
	longitude: "^(?=.*\\d)(?![NSns]|.*[NSns]\\s*$)(?![-−].*[EWew]\\s*$)",
} as const;

/** Degrees. */
export const coordinate = (axis: Axis): Notation<number> =>
	scalar({
		type: "coordinate",
		describe: words[axis],
		readText(text) {
			const reading = readCoordinate(text, axis);
			return reading.ok ? reading.degrees : refused(reading.why, text, axis);
		},
		schema: () => ({
			anyOf: [
				{ type: "number", minimum: -LIMIT[axis], maximum: LIMIT[axis] },
				{ type: "string", pattern: FORM[axis] },
			],
		}),
		colour: "number",
		complete: (context) =>
			offerEndings(
				context,
				axis === "latitude"
					? [
							{ ending: " N", detail: words.north() },
							{ ending: " S", detail: words.south() },
						]
					: [
							{ ending: " E", detail: words.east() },
							{ ending: " W", detail: words.west() },
						],
				/^\d[\d.°′″'" ]*$/,
			),
		rewrite(source) {
			const reading = readCoordinate(source, axis);
			if (!reading.ok) return [];
			const decimal = /^[-+−]?[\d.]+\s*[NSEWnsew]?$|^[NSEWnsew]\s*[\d.]+$/.test(source.trim());
			const text = decimal ? coordinateWords(reading.degrees, axis) : coordinateText(reading.degrees, axis);
			return [{ title: words.otherwise({ coordinate: text }), text }];
		},
	});

function refused(why: Extract<CoordinateReading, { ok: false }>["why"], text: string, axis: Axis): Refused {
	const latitude = axis === "latitude";
	const said = { text: clip(text) };
	const pair = why === "unreadable" || why === "other-axis" ? readCoordinatePair(text) : undefined;
	if (pair) {
		const other = latitude ? "longitude" : "latitude";
		const beside = { [other]: coordinateText(pair[other], other) };
		return unreadable(words.pair(said), coordinateText(pair[axis], axis), beside);
	}
	switch (why) {
		case "out-of-range":
			return outOfRange({ min: -LIMIT[axis], max: LIMIT[axis] }, "°", { what: words[axis]() });
		case "other-axis":
			return unreadable(latitude ? words.otherThanLatitude(said) : words.otherThanLongitude(said));
		case "two-signs":
			return unreadable(words.twoSigns(said), text.replace(/[-−]/, ""));
		case "minutes":
			return unreadable(words.minutes(said));
		case "unreadable":
			return unreadable(latitude ? words.noLatitude(said) : words.noLongitude(said));
	}
}

/** Reads a latitude or longitude in degrees. */
export function readCoordinate(text: string, axis: Axis): CoordinateReading {
	const parts = /^([^NSEWnsew]{1,60})([NSEWnsew]?)$/.exec(text.trim()) ?? leadingLetter(text.trim());
	if (!parts) return { ok: false, why: "unreadable" };
	const letter = (parts[2] || "").toUpperCase() as "N" | "S" | "E" | "W" | "";
	const size = readDegreesMinutesSeconds((parts[1] as string).trim());
	if (size === undefined) return { ok: false, why: "unreadable" };
	if (size === "minutes") return { ok: false, why: "minutes" };
	if (letter !== "" && "NS".includes(letter) !== (axis === "latitude")) return { ok: false, why: "other-axis" };
	if (letter !== "" && size.negative) return { ok: false, why: "two-signs" };
	const degrees = size.negative || letter === "S" || letter === "W" ? -size.degrees : size.degrees;
	if (size.degrees > LIMIT[axis]) return { ok: false, why: "out-of-range", degrees };
	return { ok: true, degrees, letter: letter === "" ? undefined : letter };
}

/**
 * Reads latitude and longitude in one text, as maps copy them: `47°06'28.1"N 8°40'55.2"E`, `47.1078, 8.6820`,
 * `8.6820 E, 47.1078 N`. Undefined where it could be read in two ways, or not at all.
 */
export function readCoordinatePair(text: string): Readonly<Record<Axis, number>> | undefined {
	if (text.length > MOST_OF_A_PAIR) return undefined;
	const trimmed = text.trim().replace(/^geo:/i, "");
	const breaks = /[,;]/.test(trimmed) ? /[,;]\s*/g : /\s+/g;
	const found = [...trimmed.matchAll(breaks)].flatMap(({ index, 0: { length } }) => {
		const [first, second] = [trimmed.slice(0, index), trimmed.slice(index + length)];
		return pairOf(first, second) ?? pairOf(second, first, true) ?? [];
	});
	return found.length === 1 ? found[0] : undefined;
}

/** As long as two coordinates may be. */
const MOST_OF_A_PAIR = 120;

/** Both, if they are; with `lettered`, only where letters say which is which. */
function pairOf(first: string, second: string, lettered = false): Readonly<Record<Axis, number>> | undefined {
	const [latitude, longitude] = [readCoordinate(first, "latitude"), readCoordinate(second, "longitude")];
	if (!latitude.ok || !longitude.ok || (lettered && !(latitude.letter && longitude.letter))) return undefined;
	return { latitude: latitude.degrees, longitude: longitude.degrees };
}

/** `S 32.4123` is written as often as `32.4123 S`. */
function leadingLetter(text: string): [string, string, string] | undefined {
	const match = /^([NSEWnsew])([^NSEWnsew]{1,60})$/.exec(text);
	return match ? [text, match[2] as string, match[1] as string] : undefined;
}

function readDegreesMinutesSeconds(text: string): { degrees: number; negative: boolean } | "minutes" | undefined {
	const values: number[] = [];
	let rest = text;
	const marks = [/^\s?(?:°|deg|d|:)?\s*/, /^\s?(?:′|'|’|m|:)?\s*/, /^\s?(?:″|"|”|''|s)?\s*/];
	for (const mark of marks) {
		if (rest === "") break;
		const number = readNumber(rest);
		if (!number || (values.length > 0 && !/^[\d.]/.test(rest))) return undefined;
		// Only the last part may have a fraction.
		if (values.some((value) => !Number.isInteger(value))) return undefined;
		values.push(number.value);
		rest = number.rest.replace(mark, "");
	}
	const [degrees, minutes = 0, seconds = 0] = values;
	if (degrees === undefined || rest !== "") return undefined;
	if (minutes >= 60 || seconds >= 60) return "minutes";
	const negative = /^[-−]/.test(text);
	return { degrees: Math.abs(degrees) + minutes / 60 + seconds / 3600, negative };
}

const letterOf = (degrees: number, axis: Axis): string =>
	axis === "latitude" ? (degrees < 0 ? "S" : "N") : degrees < 0 ? "W" : "E";

/** `32° 24′ 44.3″ S`: to a tenth of a second, three metres. */
export function coordinateWords(degrees: number, axis: Axis): string {
	const tenths = Math.round(Math.abs(degrees) * 36_000);
	const whole = Math.floor(tenths / 36_000);
	const minutes = Math.floor((tenths % 36_000) / 600);
	const seconds = (tenths % 600) / 10;
	return `${whole}° ${String(minutes).padStart(2, "0")}′ ${String(seconds)}″ ${letterOf(degrees, axis)}`;
}

/** `32.412306 S`: to a tenth of a metre. */
export const coordinateText = (degrees: number, axis: Axis): string =>
	`${Number(Math.abs(degrees).toFixed(6))} ${letterOf(degrees, axis)}`;
