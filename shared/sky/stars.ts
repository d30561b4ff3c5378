/**
 * The stars: 5044 to magnitude 6, with names. Places are ICRS J2000; see `catalogue/` for where they come from.
 *
 * Proper motion is known for 1321 of them: nearly every star to magnitude 4, four in five to 4.5, and all that move
 * over 0.2″ a year. For the others a place is good to 0.2″ × years since 2000, at worst. Annual parallax counts for the
 * dozen nearest (0.74″ for alpha Centauri); it is 0.17″ at most for the others, and left out.
 */
import { Kept, lazily } from "../memory/memory.ts";
import { GREEK, genitiveOf } from "./catalogue/constellations.ts";
import { signed, summed, unpacked } from "./catalogue/packed.ts";
import { PARALLAXES } from "./catalogue/parallaxes.ts";
import { FAINTEST, MOTION_UNITS, STAR_COLUMNS, STAR_COUNT, STAR_COUNTS, STAR_LABELS } from "./catalogue/star-table.ts";
import { daysSinceJ2000, type SkyFrame } from "./frame.ts";
import { dot, fromAngles, plus, RAD, rotate, times, unit, type Vector } from "./vector.ts";

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
	/** Proper motion in right ascension (times the cosine of declination) and in declination, mas a year; NaN when not known. */
	readonly motion: readonly [Float64Array, Float64Array];
	readonly magnitude: Float64Array;
}

/** The table; each column is decoded on its first use. */
export const starColumns = lazily((): Columns => new StarTable());

class StarTable implements Columns {
	get rightAscension(): Float64Array {
		return placeColumns()[0];
	}
	get declination(): Float64Array {
		return placeColumns()[1];
	}
	get hip(): Float64Array {
		return hipColumn();
	}
	get motion(): Columns["motion"] {
		return motionColumns();
	}
	get magnitude(): Float64Array {
		return magnitudeColumn();
	}
}

/** How many stars have astrometry of their own, and for how many the proper motion is known. */
const { own, moving } = STAR_COUNTS;

/** In 1e-6 degrees a place is known of stars with astrometry of their own, in 1e-4 of the others. */
const placeColumns = lazily((): readonly [Float64Array, Float64Array] => {
	const rightAscension = unpacked(STAR_COLUMNS.rightAscension, STAR_COUNT);
	const declination = summed(unpacked(STAR_COLUMNS.declination, STAR_COUNT));
	const fine = unpacked(STAR_COLUMNS.fine, 2 * own);
	for (let i = 0; i < STAR_COUNT; i++) {
		rightAscension[i] = (rightAscension[i] as number) * 100;
		declination[i] = ((declination[i] as number) - 90e4) * 100;
	}
	for (const [nth, star] of summed(unpacked(STAR_COLUMNS.own, own)).entries()) {
		rightAscension[star] = (rightAscension[star] as number) + (fine[2 * nth] as number);
		declination[star] = (declination[star] as number) + (fine[2 * nth + 1] as number);
	}
	for (let i = 0; i < STAR_COUNT; i++) {
		rightAscension[i] = (rightAscension[i] as number) / 1e6;
		declination[i] = (declination[i] as number) / 1e6;
	}
	return [rightAscension, declination];
});

/** Hipparcos numbered nearly from west to east: told in that order. */
const hipColumn = lazily((): Float64Array => {
	const [rightAscension] = placeColumns();
	// A star's place in the table as what comes behind its right ascension: numbers are sorted quicker than anything else.
	const eastward = rightAscension.map((one, i) => Math.round(one * 1e6) * 8192 + i).sort();
	const numbers = summed(signed(unpacked(STAR_COLUMNS.hip, STAR_COUNT)));
	const hip = new Float64Array(STAR_COUNT);
	for (let i = 0; i < STAR_COUNT; i++) hip[(eastward[i] as number) % 8192] = numbers[i] as number;
	return hip;
});

const motionColumns = lazily((): Columns["motion"] => {
	const columns: Columns["motion"] = [new Float64Array(STAR_COUNT), new Float64Array(STAR_COUNT)];
	const known = signed(unpacked(STAR_COLUMNS.motion, 2 * moving));
	for (const column of columns) column.fill(Number.NaN);
	for (const [nth, star] of summed(unpacked(STAR_COLUMNS.moving, moving)).entries())
		for (const [i, column] of columns.entries()) column[star] = (known[2 * nth + i] as number) / MOTION_UNITS;
	return columns;
});

const magnitudeColumn = lazily(
	(): Float64Array => unpacked(STAR_COLUMNS.magnitude, STAR_COUNT).map((brighter) => (FAINTEST - brighter) / 100),
);

const isKnown = (motion: number | undefined): motion is number => motion !== undefined && !Number.isNaN(motion);

/** Of one star. */
interface StarPlace {
	/** Unit vector, J2000, and its yearly change. */
	readonly place: Vector;
	readonly change: Vector;
	/** Radians, where it counts. */
	readonly parallax: number | undefined;
	/** Its apparent place at the frame that was asked for last: a night asks for the same one over and over. */
	frame: SkyFrame | undefined;
	seen: Vector;
}

/** Of the stars that were asked for. */
const places = new Array<StarPlace | undefined>(STAR_COUNT);

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
	const unmoved = fromAngles(ra, dec);
	const place: StarPlace = {
		place: unmoved,
		change: plus(times(east, muEast), times(north, muNorth)),
		parallax: parallax === undefined ? undefined : parallax * (RAD / 3_600_000),
		frame: undefined,
		seen: unmoved,
	};
	places[index] = place;
	return place;
}

/** Cosine of the angle between two stars at J2000. */
export function cosBetween(a: number, b: number): number {
	return dot(placeOf(a).place, placeOf(b).place);
}

/**
 * Apparent place of a star at a frame's instant: a unit vector of the true equator and equinox of date.
 *
 * A star at the distance 1/π (π: parallax in radians; astronomical units) in the direction s is seen from Earth at E
 * toward s/π − E, which is along s − π E.
 */
export function starVector(index: number, frame: SkyFrame): Vector {
	const star = placeOf(index);
	if (star.frame === frame) return star.seen;
	const { place, change, parallax } = star;
	const now = plus(place, times(change, daysSinceJ2000(frame.at) / 365.25));
	star.seen = apparent(parallax === undefined ? now : plus(now, times(frame.earthPosition, -parallax)), frame);
	star.frame = frame;
	return star.seen;
}

/** Apparent place of a J2000 direction without proper motion: a unit vector of date. */
export const fixedVector = (rightAscension: number, declination: number, frame: SkyFrame): Vector =>
	apparent(fromAngles(rightAscension * RAD, declination * RAD), frame);

/** A J2000 direction with annual aberration (to first order in v/c: the second is below 0.001″), turned to the frame of date. */
export function apparent(direction: Vector, frame: SkyFrame): Vector {
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

/** The stars brighter than a magnitude, in the order of the table. */
export const starsBrighterThan = (limit: number): readonly Star[] => bright.of(limit, brighterThan);

const bright = new Kept<number, readonly Star[]>(4);

function brighterThan(limit: number): readonly Star[] {
	const found: Star[] = [];
	for (const [index, magnitude] of starColumns().magnitude.entries()) if (magnitude < limit) found.push(starAt(index));
	return found;
}

/** Spellings to offer where a name is not known: proper names and Bayer letters with the full genitive, the brightest first. */
export const starSpellings = lazily((): readonly string[] => {
	const { magnitude } = starColumns();
	return Array.from({ length: STAR_COUNT }, (_, i) => ({ name: nameOf(i), magnitude: magnitude[i] ?? 0 }))
		.filter(({ name }) => !name.startsWith("HIP"))
		.sort((a, b) => a.magnitude - b.magnitude)
		.map(({ name }) => name);
});
