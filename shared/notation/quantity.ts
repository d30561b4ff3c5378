/** Quantities: a number and a unit in one scalar, such as `24 mm`, `3 min`, `± 1°`. */

import { eitherText } from "../text/list.ts";
import { nearestWord } from "../text/nearest.ts";
import { sentences, told } from "../text/sentence.ts";
import { ANGLE, DECLINATION, RIGHT_ASCENSION } from "./angle.ts";
import { COLONS, type Dimension, dimension, readInParts } from "./dimension.ts";
import { DURATION } from "./duration.ts";
import { isWithin, type Limits, within } from "./limits.ts";
import { clip } from "./node.ts";
import type { Notation } from "./notation.ts";
import { NUMBER_PATTERN, readNumber } from "./number.ts";
import { offerEndings, type Refused, scalar, unreadable } from "./scalar.ts";

const words = sentences("notation.quantity", {
	described: "{name} ({units})",
	explained: "{name} in {units}",
	schema: "In {units}.",
	noUnit: "`{text}` has no unit. Write {name} with its unit, such as `{better}`.",
	unknownUnit: "Unknown unit `{unit}`; use {units}.",
	noNumber: "`{text}` is not {name}. Write a number and a unit ({units}).",
	length: "a length",
	focalLength: "a focal length",
	pixelPitch: "a pixel pitch",
	pixels: "a number of pixels",
	temperature: "a temperature",
	pressure: "an air pressure",
	share: "a percentage",
	magnitudes: "a number of magnitudes",
});

const FOOT = 0.3048;

/** Every dimension by its name. */
export const DIMENSIONS = {
	/** Metres. */
	length: dimension(words.length, "m", { m: 1, km: 1000, ft: FOOT, "'": FOOT, mi: 1609.344, yd: 0.9144 }),
	/** Millimetres. */
	"focal-length": dimension(words.focalLength, "mm", { mm: 1, cm: 10, in: 25.4 }),
	/** Micrometres. */
	"pixel-pitch": dimension(words.pixelPitch, "µm", {
		µm: 1,
		um: 1,
		μm: 1,
		micron: 1,
		microns: 1,
		nm: 0.001,
		mm: 1000,
	}),
	duration: DURATION,
	angle: ANGLE,
	"right-ascension": RIGHT_ASCENSION,
	declination: DECLINATION,
	/** Pixels. */
	pixels: dimension(words.pixels, "px", { px: 1, pixel: 1, pixels: 1 }, 1),
	/** Degrees Celsius. Fahrenheit has an offset and is left out. */
	temperature: dimension(words.temperature, "°C", { "°C": 1, C: 1, degC: 1 }),
	/** Hectopascals. */
	pressure: dimension(words.pressure, "hPa", { hPa: 1, mbar: 1, kPa: 10, mmHg: 1.333224, inHg: 33.86389 }),
	/** Magnitudes. */
	magnitudes: dimension(words.magnitudes, "mag", { mag: 1, magnitude: 1, magnitudes: 1 }),
	/** Percent. */
	share: dimension(words.share, "%", { "%": 1, percent: 1 }),
} as const satisfies Record<string, Dimension>;

export type DimensionName = keyof typeof DIMENSIONS;

/** In the dimension's canonical unit. */
export function quantity(name: DimensionName, limits: Limits = {}): Notation<number> {
	const of = DIMENSIONS[name];
	const inWords = () => ({ name: [of.name()], units: acceptedUnits(of) });
	const describe = () => words.described(inWords());
	return scalar({
		type: "quantity",
		describe,
		explain: () => words.explained(inWords()),
		readText(text) {
			const reading = readQuantity(text, name);
			return reading.ok ? within(reading.value, limits, of.canonical) : refused(reading, text);
		},
		schema() {
			const unit = `(${[...of.units.keys()].map(escaped).join("|")})${of.bare === undefined ? "" : "?"}`;
			const parts = of.families
				.map((family) => `|(${NUMBER_PATTERN}\\s?(${[...family.keys()].map(escaped).join("|")})\\s?){2,3}`)
				.concat(of.colons === undefined ? [] : [`|${COLONS}`])
				.join("");
			const text = {
				type: "string",
				pattern: `^\\s*((±|\\+/-|\\+-)\\s?)?(${NUMBER_PATTERN}\\s*${unit}${parts})\\s*$`,
				description: told(words.schema({ units: acceptedUnits(of) })),
			};
			return of.bare === undefined ? text : { anyOf: [{ type: "number" }, text] };
		},
		colour: "number",
		// Older YAML readers take `05:35:17` for a number of seconds.
		quoted: (source) => of.colons !== undefined && source.includes(":"),
		complete: (context) =>
			offerEndings(
				context,
				unitsOf(of)
					.slice(0, MOST_UNITS)
					.map((unit) => ({ ending: written(unit), detail: of.name() })),
				BEGUN,
			),
	});

	/** The unit that a number without one has most likely: the canonical one, or the first with which it is in range. */
	function likelyUnit(text: string): string {
		const fits = (unit: string): boolean => {
			const reading = readQuantity(`${text} ${unit}`, name);
			return reading.ok && isWithin(reading.value, limits);
		};
		return [of.canonical, ...unitsOf(of)].find(fits) ?? of.canonical;
	}

	function refused({ why, unit = "" }: Exclude<QuantityReading, { ok: true }>, text: string): Refused {
		const said = { text: clip(text), name: [of.name()] };
		if (why === "no-unit") {
			const better = `${text.trim()} ${likelyUnit(text)}`;
			return unreadable(words.noUnit({ ...said, better: clip(better) }), better);
		}
		if (why !== "unknown-unit") return unreadable(words.noNumber({ ...said, units: acceptedUnits(of) }));
		const nearest = nearestWord(unit, of.units.keys());
		const better = nearest && text.replace(unit, nearest).trim();
		return unreadable(words.unknownUnit({ unit: clip(unit), units: eitherText(unitsOf(of)) }), better);
	}
}

/** Units that are offered: the first ones are those people use. */
const MOST_UNITS = 3;

/** A number that has no unit yet. */
const BEGUN = /^(?:±\s*)?[-+−]?\d[\d.]*$/;

/** A unit as it is written behind its number: signs follow at once. */
const written = (unit: string): string => (/^[°′″'"]/.test(unit) ? unit : ` ${unit}`);

/** A quantity that was read, or why it could not be. */
export type QuantityReading =
	| { readonly ok: true; readonly value: number; readonly unit: string }
	| {
			readonly ok: false;
			readonly why: "not-a-number" | "no-unit" | "unknown-unit" | "not-finite";
			readonly unit?: string;
	  };

/** Reads `text` as a quantity of `name`'s dimension, in its canonical unit. A leading ± is allowed: the sign is then dropped. */
export function readQuantity(text: string, name: DimensionName): QuantityReading {
	const { units, bare, canonical }: Dimension = DIMENSIONS[name];
	const trimmed = text.trim();
	const spread = /^(?:±|\+\/-|\+-)\s?/.exec(trimmed);
	const unsigned = spread ? trimmed.slice(spread[0].length) : trimmed;
	const inParts = readInParts(unsigned, DIMENSIONS[name]);
	if (inParts !== undefined) return { ok: true, value: spread ? Math.abs(inParts) : inParts, unit: canonical };
	const number = readNumber(unsigned);
	if (!number) return { ok: false, why: "not-a-number" };
	if (!Number.isFinite(number.value)) return { ok: false, why: "not-finite" };
	const unit = number.rest.trim();
	const factor = unit === "" ? bare : units.get(unit);
	if (factor === undefined)
		return unit === "" ? { ok: false, why: "no-unit" } : { ok: false, why: "unknown-unit", unit };
	const value = number.value * factor;
	return { ok: true, value: spread ? Math.abs(value) : value, unit: unit === "" ? canonical : unit };
}

/** `mm, cm, in`. */
const acceptedUnits = (of: Dimension): string => unitsOf(of).join(", ");

/** The units a message offers: one spelling of each. */
function unitsOf({ units }: Dimension): readonly string[] {
	const seen = new Set<number>();
	const shown: string[] = [];
	for (const [unit, factor] of units) {
		if (seen.has(factor)) continue;
		seen.add(factor);
		shown.push(unit);
	}
	return shown;
}

const escaped = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
