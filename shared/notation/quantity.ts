/**
 * Quantities: a number and a unit in one scalar, such as `24 mm`, `3 min`, `± 1°`.
 * The canonical unit of a dimension is the one whose factor is 1.
 */

interface Dimension {
	/** What a person calls it, with its article, for messages. */
	readonly name: string;
	/** The unit a parsed value is in. */
	readonly canonical: string;
	/** Spelling of a unit → factor to the canonical unit. The first spelling of a factor is the one shown. */
	readonly units: ReadonlyMap<string, number>;
	/** Factor of a number without a unit, where one may stand alone. */
	readonly bare?: number;
}

const dimension = (name: string, canonical: string, units: Record<string, number>, bare?: number): Dimension =>
	bare === undefined
		? { name, canonical, units: new Map(Object.entries(units)) }
		: { name, canonical, units: new Map(Object.entries(units)), bare };

const FOOT = 0.3048;

export const DIMENSIONS = {
	/** Metres. */
	length: dimension("a length", "m", { m: 1, km: 1000, ft: FOOT, "'": FOOT, mi: 1609.344, yd: 0.9144 }),
	/** Millimetres. */
	"focal-length": dimension("a focal length", "mm", { mm: 1, cm: 10, in: 25.4 }),
	/** Micrometres. */
	"pixel-pitch": dimension("a pixel pitch", "µm", { µm: 1, um: 1, μm: 1, micron: 1, microns: 1, nm: 0.001, mm: 1000 }),
	/** Seconds. */
	duration: dimension("a duration", "s", {
		s: 1,
		min: 60,
		h: 3600,
		ms: 0.001,
		sec: 1,
		second: 1,
		seconds: 1,
		minute: 60,
		minutes: 60,
		hr: 3600,
		hour: 3600,
		hours: 3600,
	}),
	/** Degrees. A bare number is in degrees. */
	angle: dimension(
		"an angle",
		"°",
		{
			"°": 1,
			arcmin: 1 / 60,
			arcsec: 1 / 3600,
			deg: 1,
			"′": 1 / 60,
			"″": 1 / 3600,
			"'": 1 / 60,
			'"': 1 / 3600,
			degree: 1,
			degrees: 1,
			rad: 180 / Math.PI,
			mrad: 0.18 / Math.PI,
		},
		1,
	),
	/** Pixels. */
	pixels: dimension("a number of pixels", "px", { px: 1, pixel: 1, pixels: 1 }, 1),
	/** Degrees Celsius. Fahrenheit has an offset and is left out. */
	temperature: dimension("a temperature", "°C", { "°C": 1, C: 1, degC: 1 }),
	/** Hectopascals. */
	pressure: dimension("an air pressure", "hPa", { hPa: 1, mbar: 1, kPa: 10, mmHg: 1.333224, inHg: 33.86389 }),
	/** Percent. */
	share: dimension("a share", "%", { "%": 1, percent: 1 }),
} as const satisfies Record<string, Dimension>;

export type DimensionName = keyof typeof DIMENSIONS;

/** A quantity that was read, or why it could not be. */
export type QuantityReading =
	| { readonly ok: true; readonly value: number; readonly unit: string }
	| {
			readonly ok: false;
			readonly why: "not-a-number" | "no-unit" | "unknown-unit" | "not-finite";
			readonly unit?: string;
	  };

/** One number, sign and exponent included, at the start of a text. Written so that it can never backtrack far. */
const NUMBER = /^[+\-−]?(?:\d{1,30}(?:\.\d{0,30})?|\.\d{1,30})(?:[eE][+-]?\d{1,3})?/;

/** Reads a number at the start of `text`: the number and what follows it. */
export function readNumber(text: string): { value: number; rest: string } | undefined {
	const match = NUMBER.exec(text);
	if (!match) return undefined;
	return { value: Number(match[0].replace("−", "-")), rest: text.slice(match[0].length) };
}

/** Reads `text` as a quantity of `name`'s dimension, in its canonical unit. A leading ± is allowed: the sign is then dropped. */
export function readQuantity(text: string, name: DimensionName): QuantityReading {
	const { units, bare } = DIMENSIONS[name] as Dimension;
	const trimmed = text.trim();
	const spread = /^(?:±|\+\/-|\+-)\s?/.exec(trimmed);
	const number = readNumber(spread ? trimmed.slice(spread[0].length) : trimmed);
	if (!number) return { ok: false, why: "not-a-number" };
	if (!Number.isFinite(number.value)) return { ok: false, why: "not-finite" };
	const unit = number.rest.trim();
	const factor = unit === "" ? bare : units.get(unit);
	if (factor === undefined)
		return unit === "" ? { ok: false, why: "no-unit" } : { ok: false, why: "unknown-unit", unit };
	const value = number.value * factor;
	return { ok: true, value: spread ? Math.abs(value) : value, unit: unit === "" ? DIMENSIONS[name].canonical : unit };
}

/** The units a message offers: one spelling of each, for example `mm, cm, in`. */
export function acceptedUnits(name: DimensionName): string {
	const seen = new Set<number>();
	const shown: string[] = [];
	for (const [unit, factor] of DIMENSIONS[name].units) {
		if (seen.has(factor)) continue;
		seen.add(factor);
		shown.push(unit);
	}
	return shown.join(", ");
}
