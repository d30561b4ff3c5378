/**
 * The stars: 5044 to magnitude 6, with names. Places are ICRS J2000; see `catalogue/` for where they come from.
 *
 * Proper motion is known for 1280 of them: nearly every star to magnitude 4, four in five to 4.5, and all that move
 * over 0.2″ a year. For the others a place is good to 0.2″ × years since 2000, at worst. Annual parallax (0.75″ for
 * alpha Centauri, less for all others) is left out.
 */
import { GREEK, genitiveOf } from "./catalogue/constellations.ts";
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
	readonly rightAscension: Float64Array;
	readonly declination: Float64Array;
	readonly hip: Uint32Array;
	readonly motion: readonly [Float64Array, Float64Array];
	readonly magnitude: Float64Array;
	/** Unit vectors, J2000, three numbers a star, and their yearly change. */
	readonly place: Float64Array;
	readonly change: Float64Array;
}

/** In every runtime the core meets; its types belong to none of the libraries it is compiled with. */
declare function atob(base64: string): string;

let columns: Columns | undefined;

/** The table, decoded on first use. */
export function starColumns(): Columns {
	if (columns) return columns;
	const raw = atob(STAR_COLUMNS);
	const bytes = new Uint8Array(raw.length);
	const n = STAR_COUNT;
	let start = 0;
	for (const width of COLUMN_WIDTHS) {
		for (let b = 0; b < width; b++) for (let i = 0; i < n; i++) bytes[start + width * i + b] = raw.charCodeAt(start + b * n + i);
		start += width * n;
	}
	const view = new DataView(bytes.buffer);
	const numbers = (read: (i: number) => number) => Float64Array.from({ length: n }, (_, i) => read(i));
	const motion = (offset: number) =>
		numbers((i) => {
			const value = view.getInt16(offset + 2 * i, true);
			return value === -32768 ? Number.NaN : value * MOTION_UNIT_MAS;
		});
	const rightAscension = numbers((i) => view.getUint32(4 * i, true) / 1e6);
	const declination = numbers((i) => view.getInt32(4 * n + 4 * i, true) / 1e6);
	const motions = [motion(12 * n), motion(14 * n)] as const;
	const place = new Float64Array(3 * n);
	const change = new Float64Array(3 * n);
	for (let i = 0; i < n; i++) {
		const ra = (rightAscension[i] as number) * RAD;
		const dec = (declination[i] as number) * RAD;
		place.set(fromAngles(ra, dec), 3 * i);
		const east: Vector = [-Math.sin(ra), Math.cos(ra), 0];
		const north: Vector = [-Math.sin(dec) * Math.cos(ra), -Math.sin(dec) * Math.sin(ra), Math.cos(dec)];
		const toRad = RAD / 3_600_000;
		const [muEast, muNorth] = [(motions[0][i] || 0) * toRad, (motions[1][i] || 0) * toRad];
		change.set(plus(times(east, muEast), times(north, muNorth)), 3 * i);
	}
	columns = {
		rightAscension,
		declination,
		hip: Uint32Array.from({ length: n }, (_, i) => view.getUint32(8 * n + 4 * i, true)),
		motion: motions,
		magnitude: numbers((i) => view.getInt16(16 * n + 2 * i, true) / 100),
		place,
		change,
	};
	return columns;
}

/** Apparent place of a star at a frame's instant: a unit vector of the true equator and equinox of date. */
export function starVector(index: number, frame: SkyFrame): Vector {
	const { place, change } = starColumns();
	const years = daysSinceJ2000(frame.at) / 365.25;
	const at = (k: number): number => (place[3 * index + k] as number) + years * (change[3 * index + k] as number);
	return apparent([at(0), at(1), at(2)], frame);
}

/** Apparent place of a J2000 direction without proper motion: a unit vector of date. */
export const fixedVector = (rightAscension: number, declination: number, frame: SkyFrame): Vector =>
	apparent(fromAngles(rightAscension * RAD, declination * RAD), frame);

/** Adds annual aberration (to first order in v/c: the second is below 0.001″) and turns to the frame of date. */
function apparent(direction: Vector, frame: SkyFrame): Vector {
	return rotate(frame.toDate, unit(plus(unit(direction), frame.earthVelocity)));
}

interface Labels {
	readonly names: readonly string[];
	/** Lower-case spelling → index, every spelling of every named star. */
	readonly byName: ReadonlyMap<string, number>;
}

let labels: Labels | undefined;

/** Stars brighter than this are called by their proper names. */
const FAINTEST_BY_NAME = 2.6;

function starLabels(): Labels {
	if (labels) return labels;
	const { hip, magnitude } = starColumns();
	const names: string[] = [];
	const byName = new Map<string, number>();
	const add = (spelling: string, index: number): void => {
		const key = plainKey(spelling);
		const other = byName.get(key);
		// Two components of one letter share it; the brighter has it.
		if (other === undefined || (magnitude[index] as number) < (magnitude[other] as number)) byName.set(key, index);
	};
	STAR_LABELS.split("|").forEach((label, index) => {
		const [proper = "", bayer = "", flamsteed = "", constellation = ""] = label.split(";");
		const genitive = genitiveOf.get(constellation) ?? constellation;
		const letter = bayer.replace(/^[α-ω]/, (greek) => GREEK.get(greek) ?? greek);
		const designations = [letter, /^\d/.test(letter) ? "" : flamsteed].filter(Boolean);
		const main = designations[0];
		// Bright stars go by their proper names, the others by letter: half of their proper names are read by nobody.
		const designation = main && genitive ? `${main} ${genitive}` : undefined;
		const known = proper && (magnitude[index] as number) < FAINTEST_BY_NAME ? proper : undefined;
		names.push(known ?? designation ?? (proper || `HIP ${hip[index]}`));
		if (proper) add(proper, index);
		for (const part of [letter, flamsteed]) {
			if (!part || !genitive) continue;
			for (const form of new Set([part, part.replace(/\d+$/, "")])) {
				if (form === "" || (form !== part && /^\d+$/.test(part))) continue;
				add(`${form} ${genitive}`, index);
				add(`${form} ${constellation}`, index);
			}
		}
	});
	labels = { names, byName };
	return labels;
}

const GREEK_SHORT: ReadonlyMap<string, string> = new Map([...GREEK].map(([letter, name]) => [letter, name]));
const SUPERSCRIPTS = "⁰¹²³⁴⁵⁶⁷⁸⁹";

/** Spellings that mean the same star get the same key: `η Vir.`, `eta Vir`, `Eta  vir`; `α¹ Cen`, `alpha-1 Cen`. */
function nameKey(name: string): string {
	return name
		.slice(0, 80)
		.normalize("NFC")
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
	return /^(?:[a-z]+\d*|\d+) [a-z ]+$/.test(lower) ? lower : nameKey(spelling);
}

/** Finds a star by proper name, Bayer letter, Flamsteed number or Hipparcos number. */
export function findStar(name: string): Star | undefined {
	const key = nameKey(name);
	const number = /^hip (\d{1,6})$/.exec(key)?.[1];
	const index = number === undefined ? starLabels().byName.get(key) : starColumns().hip.indexOf(Number(number) || -1);
	return index === undefined || index < 0 ? undefined : starAt(index);
}

export function starAt(index: number): Star {
	const { rightAscension, declination, hip, magnitude, motion } = starColumns();
	return {
		index,
		hip: hip[index] as number,
		name: starLabels().names[index] as string,
		magnitude: magnitude[index] as number,
		rightAscension: rightAscension[index] as number,
		declination: declination[index] as number,
		moves: !Number.isNaN(motion[0][index]),
	};
}

/** Spellings to offer where a name is not known: proper names and Bayer letters with the full genitive. */
export function starSpellings(): readonly string[] {
	return starLabels().names.filter((name) => !name.startsWith("HIP"));
}
