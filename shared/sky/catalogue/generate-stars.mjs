// Writes shared/sky/catalogue/star-table.ts from the d3-celestial devDependency (BSD-3: Hipparcos number, V, J2000
// place to 1e-4 deg, names) and the two tables beside this file, which have better places and proper motions.
// Run through `npm run generate`.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";

const require = createRequire(import.meta.url);
const here = (name) => fileURLToPath(new URL(name, import.meta.url));

/** Rows of a CSV file with `#` comments and a header line, as numbers. */
function csv(name) {
	const lines = readFileSync(here(name), "utf8")
		.split("\n")
		.filter((line) => line !== "" && !line.startsWith("#"));
	return lines.slice(1).map((line) => line.split(",").map(Number));
}

/** Proper motions left out of both tables: alpha Centauri B moves as the system does (Bright Star Catalogue, CDS V/50). */
const ALPHA_CENTAURI_B = [71681, -3.646, 0.7];

/** Units of the proper-motion columns in a milliarcsecond a year. */
const MOTION_UNITS = 5;

export function starTable() {
	const { features } = require("d3-celestial/data/stars.6.json");
	const names = require("d3-celestial/data/starnames.json");
	const places = new Map(csv("astrometry.csv").map(([hip, ...rest]) => [hip, rest]));
	const motions = new Map(
		[...csv("proper-motions.csv"), ALPHA_CENTAURI_B].map(([hip, ra, dec]) => [hip, [ra * 1000, dec * 1000]]),
	);
	const stars = features.map(({ id, properties, geometry }) => {
		const [ra, dec] = geometry.coordinates;
		const place = places.get(id) ?? [ra, dec, ...(motions.get(id) ?? [Number.NaN, Number.NaN])];
		return {
			id,
			mag: properties.mag,
			ra: (place[0] + 360) % 360,
			dec: place[1],
			motion: place.slice(2),
			name: names[id] ?? {},
			own: places.has(id),
		};
	});
	stars.sort((a, b) => a.dec - b.dec || a.id - b.id);

	const columns = columnsOf(
		stars.map(({ id, ra, dec, mag, motion, own }) => ({
			hip: id,
			ra: Math.round(ra * 1e6),
			dec: Math.round(dec * 1e6),
			magnitude: Math.round(mag * 100),
			motion: Number.isNaN(motion[0]) ? undefined : motion.map((one) => Math.round(one / (1 / MOTION_UNITS))),
			own,
		})),
	);
	// The Greek names carry several forms of the same letters; component figures stay plain digits.
	const clean = (text) =>
		(text ?? "")
			.normalize("NFC")
			.replace(/[|;\n`\\$]/g, "")
			.trim();
	const label = ({ name }) => [name.name, name.bayer, name.flam, name.c].map(clean).join(";").replace(/;+$/, "");
	return [
		"// Written by generate-stars.mjs: do not edit. Sources: d3-celestial 0.7.35 (BSD-3), astrometry.csv, proper-motions.csv.",
		"/** How many stars the columns below hold, sorted by declination. */",
		`export const STAR_COUNT = ${stars.length};`,
		"/** Of these, how many have astrometry of their own, and of how many the proper motion is known. */",
		`export const STAR_COUNTS = { own: ${stars.filter(({ own }) => own).length}, moving: ${stars.filter(({ motion }) => !Number.isNaN(motion[0])).length} } as const;`,
		"/** Magnitude of the faintest, in hundredths. */",
		`export const FAINTEST = ${Math.max(...stars.map(({ mag }) => Math.round(mag * 100)))};`,
		"/** Of each column how many low bits its numbers are written with (`packed.ts`), and its text. */",
		"export const STAR_COLUMNS = {",
		...Object.entries(columns).flatMap(([name, { about, low, text }]) => [
			`\t/** ${about} */`,
			`\t${name}: {\n\t\tlow: ${low},\n\t\ttext: "${text}",\n\t},`,
		]),
		"} as const;",
		"/** `proper name;Bayer letter;Flamsteed number;constellation`, one star after the other, `|` between them. */",
		`export const STAR_LABELS =\n\t"${stars.map(label).join("|")}";`,
		"/** Units of proper motion in a milliarcsecond a year. */",
		`export const MOTION_UNITS = ${MOTION_UNITS};`,
		"",
	].join("\n");
}

/**
 * Columns as short as what they say: a place is written to 1e-4 degrees, which is all that most sources give, and to
 * 1e-6 where it is known; Hipparcos numbers rise with right ascension; most stars are faint.
 */
function columnsOf(stars) {
	const indices = stars.map((_, i) => i);
	const coarse = (value) => Math.floor(value / FINE);
	const own = indices.filter((i) => stars[i].own);
	for (const [i, { ra, dec }] of stars.entries())
		if (!stars[i].own && (ra % FINE !== 0 || dec % FINE !== 0)) throw new Error(`star ${i} is known better than told`);
	const moving = indices.filter((i) => stars[i].motion);
	const eastward = [...indices].sort((a, b) => stars[a].ra - stars[b].ra || a - b);
	const faintest = Math.max(...stars.map(({ magnitude }) => magnitude));
	return {
		declination: written(
			"Each less that before, the first from the south pole: 1e-4 degrees.",
			steps(stars.map(({ dec }) => coarse(dec) + 90e4)),
		),
		rightAscension: written(
			"1e-4 degrees.",
			stars.map(({ ra }) => coarse(ra)),
		),
		own: written("Stars with astrometry of their own: how many further each is in the table.", steps(own)),
		fine: written(
			"What these have beyond 1e-4 degrees, right ascension and declination in turns: 1e-6 degrees.",
			own.flatMap((i) => [stars[i].ra, stars[i].dec].map((value) => value - coarse(value) * FINE)),
		),
		hip: written(
			"From west to east, each less that before (`signed`).",
			steps(eastward.map((i) => stars[i].hip)).map(signed),
		),
		moving: written("Stars whose proper motion is known: how many further each is in the table.", steps(moving)),
		motion: written(
			"Of these, right ascension and declination in turns (`signed`).",
			moving.flatMap((i) => stars[i].motion.map(signed)),
		),
		magnitude: written(
			`How much brighter than ${(faintest / 100).toFixed(2)}: 0.01.`,
			stars.map(({ magnitude }) => faintest - magnitude),
		),
	};
}

/** Parts of 1e-4 degrees. */
const FINE = 100;

const steps = (values) => values.map((value, i) => value - (values[i - 1] ?? 0));

/** Whole numbers of either sign as such of one. */
const signed = (value) => (value < 0 ? -2 * value - 1 : 2 * value);

const DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

/**
 * Golomb's code with a power of two (Rice): what is above the low bits as so many ones and a zero, then the low bits; six
 * bits a digit. For numbers that thin out as they grow it is as short as can be, and nothing that packs it further is needed.
 */
function written(about, values) {
	if (values.some((value) => !Number.isInteger(value) || value < 0)) throw new Error(`not a number to write: ${about}`);
	const bitsWith = (k) => values.reduce((sum, value) => sum + Math.floor(value / 2 ** k) + 1 + k, 0);
	const lows = Array.from({ length: 23 }, (_, k) => k);
	const best = lows.reduce((a, b) => (bitsWith(b) < bitsWith(a) ? b : a));
	const bits = values
		.map(
			(value) =>
				`${"1".repeat(Math.floor(value / 2 ** best))}0${best === 0 ? "" : (value % 2 ** best).toString(2).padStart(best, "0")}`,
		)
		.join("");
	const text = (bits.match(/.{1,6}/g) ?? []).map((six) => DIGITS[Number.parseInt(six.padEnd(6, "0"), 2)]).join("");
	return { about, low: best, text };
}
