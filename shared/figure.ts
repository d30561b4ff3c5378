/** A figure: one computed number with its unit, its uncertainty where it has one, and how it came about. */
import { clockOf, type EpochMs, isoText } from "./earth/zone.ts";
import { bearingText, degrees, durationText } from "./words.ts";

export interface Figure {
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

function make(
	{ id, label, how, of, at, plusMinus }: Words,
	value: Figure["value"],
	unit: string,
	text: string,
): Figure {
	return { id, of: of ?? null, value, unit, plusMinus: plusMinus ?? null, text, how, label, at: at ?? [] };
}

const NONE = "none";

/** Degrees, `places` decimals in the text. */
export function angleFigure(words: Words, value: number | undefined, places = 1): Figure {
	if (value === undefined) return make(words, null, "°", NONE);
	const spread = words.plusMinus === undefined ? "" : ` ± ${degrees(words.plusMinus, Math.max(places, 1))}`;
	return make(words, value, "°", `${degrees(value, places)}${spread}`);
}

/** A true or magnetic bearing. */
export function bearingFigure(words: Words, value: number | undefined, north: "true" | "magnetic" = "true"): Figure {
	if (value === undefined) return make(words, null, "°", NONE);
	const spread = words.plusMinus === undefined ? "" : ` ± ${degrees(words.plusMinus, 1)}`;
	return make(words, value, "°", `${bearingText(value)}${north === "magnetic" ? " magnetic" : ""}${spread}`);
}

/** An instant, as the site's clock shows it. */
export function timeFigure(words: Words, zone: string, at: EpochMs | undefined, otherwise = NONE): Figure {
	return at === undefined
		? make(words, null, "time", otherwise)
		: make(words, isoText(zone, at), "time", clockOf(zone, at));
}

/** Seconds. */
export function durationFigure(words: Words, seconds: number | undefined): Figure {
	if (seconds === undefined) return make(words, null, "s", NONE);
	return make(words, Number.isFinite(seconds) ? seconds : null, "s", durationText(seconds));
}

/** A number with any other unit. */
export function numberFigure(words: Words, value: number | undefined, unit: string, places = 1): Figure {
	if (value === undefined || !Number.isFinite(value)) return make(words, null, unit, NONE);
	return make(
		words,
		value,
		unit,
		`${value.toFixed(places).replace("-", "−")}${unit === "" || /^[°′]/.test(unit) ? unit : ` ${unit}`}`,
	);
}

/** Words, where a figure is a choice and no number. */
export const textFigure = (words: Words, value: string): Figure => make(words, value, "", value);
