/**
 * The stars: 5044 to magnitude 6, with names. Places are ICRS J2000; see `catalogue/` for where they come from.
 *
 * Proper motion is known for 1280 of them: nearly every star to magnitude 4, four in five to 4.5, and all that move
 * over 0.2″ a year. For the others a place is good to 0.2″ × years since 2000, at worst. Annual parallax counts for the
 * dozen nearest (0.74″ for alpha Centauri); it is 0.17″ at most for the others, and left out.
 */
import { Kept, lazily } from "../memory/memory.ts";
import { GREEK, genitiveOf } from "./catalogue/constellations.ts";
import { PARALLAXES } from "./catalogue/parallaxes.ts";
import { COLUMN_WIDTHS, MOTION_UNIT_MAS, STAR_COLUMNS, STAR_COUNT, STAR_LABELS } from "./catalogue/star-table.ts";
import { daysSinceJ2000, type SkyFrame } from "./frame.ts";
import { fromAngles, plus, RAD, rotate, times, unit, type Vector } from "./vector.ts";

export interface Star {
	/** Its place in the table, which is sorted by declination. */
	readonly index: number;
	/** Hipparcos number. */
	readonly hip: number;
	/** As messages and tables write it: the proper name, else `eta Virginis`, `15 Virginis` or `HIP 60129`. */
	readonly name: string;
	/** V magnitude. */
	readonly magnitude: number;
	/** Degrees, ICRS, J2000. */
	readonly rightAscension: number;
	readonly declination: number;
	/** Whether its proper motion is known. */
	readonly moves: boolean;
}

interface Columns {
	/** Degrees, ICRS, J2000; `declination` rises. */
	readonly rightAscension: Float64Array;
	readonly declination: Float64Array;
	readonly hip: Float64Array;
	/** Proper motion in right ascension (times the cosine of declination) and in declination, mas a year; at most `NO_MOTION` when not known. */
	readonly motion: readonly [Float64Array, Float64Array];
	readonly magnitude: Float64Array;
}

/** In every runtime the core meets; its types belong to none of the libraries it is compiled with. */
declare function atob(base64: string): string;

/** The table; each column is decoded on its first use. */
export const starColumns = lazily((): Columns => new StarTable());

class StarTable implements Columns {
	readonly #bytes = atob(STAR_COLUMNS);
	readonly #decoded: Float64Array[] = [];

	get rightAscension(): Float64Array {
		return this.#column(0, false, 1e6);
	}
	get declination(): Float64Array {
		return this.#column(1, true, 1e6);
	}
	get hip(): Float64Array {
		return this.#column(2, false, 1);
	}
	get motion(): readonly [Float64Array, Float64Array] {
		return [this.#column(3, true, 1 / MOTION_UNIT_MAS), this.#column(4, true, 1 / MOTION_UNIT_MAS)];
	}
	get magnitude(): Float64Array {
		return this.#column(5, true, 100);
	}

	#column(number: number, signed: boolean, unit: number): Float64Array {
		const known = this.#decoded[number];
		if (known) return known;
		const n = STAR_COUNT;
		const width = COLUMN_WIDTHS[number] as number;
		let start = n * COLUMN_WIDTHS.slice(0, number).reduce((sum, one) => sum + one, 0);
		const values = new Float64Array(n);
		for (let weight = 1; weight < 256 ** width; weight *= 256) {
			for (let i = 0; i < n; i++) values[i] = (values[i] as number) + this.#bytes.charCodeAt(start + i) * weight;
			start += n;
		}
		const half = signed ? 256 ** width / 2 : Number.POSITIVE_INFINITY;
		for (let i = 0; i < n; i++) {
			const value = values[i] as number;
			values[i] = (value < half ? value : value - 2 * half) / unit;
		}
		this.#decoded[number] = values;
		return values;
	}
}

/** The least value of 16 bits says that a motion is not known. */
const NO_MOTION = -32767.5 * MOTION_UNIT_MAS;
const isKnown = (motion: number | undefined): boolean => motion !== undefined && motion > NO_MOTION;

/** Unit vector, J2000, its yearly change, and the parallax in radians, where it counts. */
type StarPlace = readonly [place: Vector, change: Vector, parallaxRad: number | undefined];

/** Of the stars that were asked for. */
const places: StarPlace[] = [];

function placeOf(index: number): StarPlace {
	const known = places[index];
	if (known) return known;
	const { rightAscension, declination, motion, hip } = starColumns();
	const ra = (rightAscension[index] as number) * RAD;
	const dec = (declination[index] as number) * RAD;
	const east: Vector = [-Math.sin(ra), Math.cos(ra), 0];
	const north: Vector = [-Math.sin(dec) * Math.cos(ra), -Math.sin(dec) * Math.sin(ra), Math.cos(dec)];
	const [muEast, muNorth] = motion.map(
		(one) => (isKnown(one[index]) ? (one[index] as number) : 0) * (RAD / 3_600_000),
	) as [number, number];
	const parallax = PARALLAXES.get(hip[index] as number);
	const place: StarPlace = [
		fromAngles(ra, dec),
		plus(times(east, muEast), times(north, muNorth)),
		parallax === undefined ? undefined : parallax * (RAD / 3_600_000),
	];
	places[index] = place;
	return place;
}

/** Cosine of the angle between two stars at J2000. */
export function cosBetween(a: number, b: number): number {
	const [[ax, ay, az]] = placeOf(a);
	const [[bx, by, bz]] = placeOf(b);
	return ax * bx + ay * by + az * bz;
}

/**
 * Apparent place of a star at a frame's instant: a unit vector of the true equator and equinox of date.
 *
 * A star at the distance 1/π (π: parallax in radians; astronomical units) in the direction s is seen from Earth at E
 * toward s/π − E, which is along s − π E.
 */
export function starVector(index: number, frame: SkyFrame): Vector {
	const [place, change, parallaxRad] = placeOf(index);
	const now = plus(place, times(change, daysSinceJ2000(frame.at) / 365.25));
	return apparent(parallaxRad === undefined ? now : plus(now, times(frame.earthPosition, -parallaxRad)), frame);
}

/** Apparent place of a J2000 direction without proper motion: a unit vector of date. */
export const fixedVector = (rightAscension: number, declination: number, frame: SkyFrame): Vector =>
	apparent(fromAngles(rightAscension * RAD, declination * RAD), frame);

/** Adds annual aberration (to first order in v/c: the second is below 0.001″) and turns to the frame of date. */
function apparent(direction: Vector, frame: SkyFrame): Vector {
	return rotate(frame.toDate, unit(plus(unit(direction), frame.earthVelocity)));
}

/** `proper name;Bayer letter;Flamsteed number;constellation` of each star. */
const starLabels = lazily((): readonly string[] => STAR_LABELS.split("|"));

interface Designations {
	readonly proper: string;
	/** Greek letters spelt out. */
	readonly letter: string;
	readonly flamsteed: string;
	/** Abbreviation. */
	readonly constellation: string;
}

function designationsOf(index: number): Designations {
	const [proper = "", bayer = "", flamsteed = "", constellation = ""] = (starLabels()[index] ?? "").split(";");
	return { proper, letter: bayer.replace(/^[α-ω]/, (greek) => GREEK.get(greek) ?? greek), flamsteed, constellation };
}

/** Stars brighter than this are called by their proper names. */
const FAINTEST_BY_NAME = 2.6;

const names: string[] = [];

/** Bright stars go by their proper names, the others by letter: half of their proper names are read by nobody. */
function nameOf(index: number): string {
	const known = names[index];
	if (known !== undefined) return known;
	const { hip, magnitude } = starColumns();
	const { proper, letter, flamsteed, constellation } = designationsOf(index);
	const genitive = genitiveOf.get(constellation) ?? constellation;
	const main = letter || flamsteed;
	const designation = main && genitive ? `${main} ${genitive}` : undefined;
	const name =
		(proper && (magnitude[index] as number) < FAINTEST_BY_NAME ? proper : undefined) ??
		designation ??
		(proper || `HIP ${hip[index]}`);
	names[index] = name;
	return name;
}

type Index = Map<string, number>;

/** Two components of one letter share it; the brighter has it. */
function add(index: Index, key: string, star: number): void {
	const { magnitude } = starColumns();
	const other = index.get(key);
	if (other === undefined || (magnitude[star] as number) < (magnitude[other] as number)) index.set(key, star);
}

const properNames = lazily((): Index => {
	const index: Index = new Map();
	for (const [star, label] of starLabels().entries()) {
		const end = label.indexOf(";");
		const proper = end === -1 ? label : label.slice(0, end);
		if (proper !== "") add(index, plainKey(proper), star);
	}
	return index;
});

const byProperName = (key: string): number | undefined => properNames().get(key);

/** By constellation: letters and numbers, the latter also without the figure of a component. */
const inConstellations = new Kept<string, Index>(100);

const byDesignation = (form: string, constellation: string): number | undefined =>
	inConstellations.of(constellation, designationsIn).get(form);

function designationsIn(constellation: string): Index {
	const index: Index = new Map();
	const end = `;${constellation}`;
	for (const [star, label] of starLabels().entries()) {
		if (!label.endsWith(end)) continue;
		const { letter, flamsteed } = designationsOf(star);
		for (const part of [letter, flamsteed]) {
			if (part === "") continue;
			add(index, formKey(part), star);
			const bare = part.replace(/\d+$/, "");
			if (bare !== "" && bare !== part) add(index, formKey(bare), star);
		}
	}
	return index;
}

/** The key of a letter or number as it is in front of a constellation. */
const formKey = (form: string): string => plainKey(`${form} x`).slice(0, -2);

/** Constellations by abbreviation and genitive, in small letters. */
const CONSTELLATIONS: ReadonlyMap<string, string> = new Map(
	[...genitiveOf].flatMap(([abbreviation, genitive]) => [
		[abbreviation.toLowerCase(), abbreviation],
		[genitive.toLowerCase(), abbreviation],
	]),
);

const GREEK_SHORT: ReadonlyMap<string, string> = new Map([...GREEK].map(([letter, name]) => [letter, name]));
const SUPERSCRIPTS = "⁰¹²³⁴⁵⁶⁷⁸⁹";

/** Spellings that mean the same star get the same key: `η Vir.`, `eta Vir`, `Eta  vir`; `α¹ Cen`, `alpha-1 Cen`. */
function nameKey(name: string): string {
	const start = name.slice(0, 80);
	// The engine reads its tables for this when it is first asked: ASCII is composed as it is.
	return (/^[\0-\x7F]*$/.test(start) ? start : start.normalize("NFC"))
		.toLowerCase()
		.replace(/[⁰¹²³⁴⁵⁶⁷⁸⁹]/g, (digit) => String(SUPERSCRIPTS.indexOf(digit)))
		.replace(/[α-ω]/g, (letter) => GREEK_SHORT.get(letter) ?? letter)
		.replace(/^([a-z]+)[\s-]?(\d{1,2})(?=\s)/, (whole, word, digits) => (word === "hip" ? whole : `${word}${digits}`))
		.replace(/^hip\s*/, "hip ")
		.replace(/[.,]/g, "")
		.replace(/\s+/g, " ")
		.trim();
}

/** `nameKey` of the table's own spellings, nearly all of which need no more than small letters. */
function plainKey(spelling: string): string {
	const lower = spelling.toLowerCase();
	return /^(?:(?!hip)[a-z]+\d*|\d+)(?: [a-z]+)*$/.test(lower) ? lower : nameKey(spelling);
}

/** Finds a star by proper name, Bayer letter, Flamsteed number or Hipparcos number. */
export function findStar(name: string): Star | undefined {
	const key = nameKey(name);
	const index = indexOf(key);
	return index === undefined || index < 0 ? undefined : starAt(index);
}

function indexOf(key: string): number | undefined {
	const number = /^hip (\d{1,6})$/.exec(key)?.[1];
	if (number !== undefined) return starColumns().hip.indexOf(Number(number) || -1);
	const proper = byProperName(key);
	if (proper !== undefined) return proper;
	const space = key.indexOf(" ");
	const constellation = space === -1 ? undefined : CONSTELLATIONS.get(key.slice(space + 1));
	return constellation === undefined ? undefined : byDesignation(key.slice(0, space), constellation);
}

/** The star at a place of the table, from 0. */
export function starAt(index: number): Star {
	const { rightAscension, declination, hip, magnitude, motion } = starColumns();
	return {
		index,
		hip: hip[index] as number,
		name: nameOf(index),
		magnitude: magnitude[index] as number,
		rightAscension: rightAscension[index] as number,
		declination: declination[index] as number,
		moves: isKnown(motion[0][index]),
	};
}

/** Spellings to offer where a name is not known: proper names and Bayer letters with the full genitive, the brightest first. */
export const starSpellings = lazily((): readonly string[] => {
	const { magnitude } = starColumns();
	return Array.from({ length: STAR_COUNT }, (_, i) => ({ name: nameOf(i), magnitude: magnitude[i] ?? 0 }))
		.filter(({ name }) => !name.startsWith("HIP"))
		.sort((a, b) => a.magnitude - b.magnitude)
		.map(({ name }) => name);
});
