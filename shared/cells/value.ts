/** A figure: one computed number with its unit, its uncertainty where it has one, and how it came about. */
import { clockOf, type EpochMs, isoText } from "../earth/zone.ts";
import { degrees } from "../notation/angle.ts";
import { bearingText } from "../notation/bearing.ts";
import { durationText } from "../notation/duration.ts";

export interface Value {
	/** Dotted kebab-case, for example `site.pole-altitude`. Ids are a contract: never renamed. */
	readonly id: string;
	/** The target, landmark, star … it belongs to. */
	readonly of: string | null;
	/** A number, an ISO 8601 time with the site's offset, or null when there is none tonight. */
	readonly value: number | string | null;
	readonly unit: string;
	/** One standard deviation, in `unit`. */
	readonly plusMinus: number | null;
	/** As a person reads it, unit included. */
	readonly text: string;
	/** How it came about, in a sentence. */
	readonly how: string;
	/** What it is called, for tables and hovers. */
	readonly label: string;
	/** Paths of the cell whose hover shows it. */
	readonly at: readonly string[];
}

interface Words {
	readonly id: string;
	readonly label: string;
	readonly how: string;
	readonly of?: string | undefined;
	readonly at?: readonly string[];
	readonly plusMinus?: number | undefined;
}

function make({ id, label, how, of, at, plusMinus }: Words, value: Value["value"], unit: string, text: string): Value {
	return { id, of: of ?? null, value, unit, plusMinus: plusMinus ?? null, text, how, label, at: at ?? [] };
}

const NONE = "none";

/** Degrees, `places` decimals in the text. */
export function angleValue(words: Words, value: number | undefined, places = 1): Value {
	if (value === undefined) return make(words, null, "°", NONE);
	const spread = words.plusMinus === undefined ? "" : ` ± ${degrees(words.plusMinus, Math.max(places, 1))}`;
	return make(words, value, "°", `${degrees(value, places)}${spread}`);
}

/** A true or magnetic bearing. */
export function bearingValue(words: Words, value: number | undefined, north: "true" | "magnetic" = "true"): Value {
	if (value === undefined) return make(words, null, "°", NONE);
	const spread = words.plusMinus === undefined ? "" : ` ± ${degrees(words.plusMinus, 1)}`;
	return make(words, value, "°", `${bearingText(value)}${north === "magnetic" ? " magnetic" : ""}${spread}`);
}

/** An instant, as the site's clock shows it. */
export function timeValue(words: Words, zone: string, at: EpochMs | undefined, otherwise = NONE): Value {
	return at === undefined
		? make(words, null, "time", otherwise)
		: make(words, isoText(zone, at), "time", clockOf(zone, at));
}

/** Seconds. */
export function durationValue(words: Words, seconds: number | undefined): Value {
	if (seconds === undefined) return make(words, null, "s", NONE);
	return make(words, Number.isFinite(seconds) ? seconds : null, "s", durationText(seconds));
}

/** A number with any other unit. */
export function numberValue(words: Words, value: number | undefined, unit: string, places = 1): Value {
	if (value === undefined || !Number.isFinite(value)) return make(words, null, unit, NONE);
	return make(
		words,
		value,
		unit,
		`${value.toFixed(places).replace("-", "−")}${unit === "" || /^[°′]/.test(unit) ? unit : ` ${unit}`}`,
	);
}

/** Words, where a figure is a choice and no number. */
export const textValue = (words: Words, value: string): Value => make(words, value, "", value);
