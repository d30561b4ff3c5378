/**
 * Coordinates: signed decimals (`-32.4123`), a letter (`32.4123 S`), or degrees, minutes and seconds
 * (`32° 24′ 44″ S`, `32 24 44 S`). Latitude north positive, longitude east positive.
 */
import { readNumber } from "./quantity.ts";

export type Axis = "latitude" | "longitude";

export type CoordinateReading =
	| { readonly ok: true; readonly degrees: number; readonly letter: "N" | "S" | "E" | "W" | undefined }
	| {
			readonly ok: false;
			readonly why: "unreadable" | "other-axis" | "two-signs" | "out-of-range" | "minutes";
			readonly degrees?: number;
	  };

const LIMIT: Record<Axis, number> = { latitude: 90, longitude: 180 };

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
