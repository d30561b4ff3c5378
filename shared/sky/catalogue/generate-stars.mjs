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

const COLUMN_WIDTHS = [4, 4, 4, 2, 2, 2];

/** Unit of the proper-motion columns, milliarcseconds a year: 16 bits then reach 6.5 arcsec a year. */
const MOTION_UNIT_MAS = 0.2;

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
		};
	});
	stars.sort((a, b) => a.dec - b.dec || a.id - b.id);

	const count = stars.length;
	const bytes = Buffer.alloc(count * COLUMN_WIDTHS.reduce((sum, width) => sum + width));
	const column = (offset, write) => {
		for (const [i, star] of stars.entries()) write.call(bytes, star, offset, i);
	};
	column(0, (s, o, i) => bytes.writeUInt32LE(Math.round(s.ra * 1e6), o + 4 * i));
	column(4 * count, (s, o, i) => bytes.writeInt32LE(Math.round(s.dec * 1e6), o + 4 * i));
	column(8 * count, (s, o, i) => bytes.writeUInt32LE(s.id, o + 4 * i));
	// -32768 says that the motion is not known.
	const motion = (value) => (Number.isNaN(value) ? -32768 : Math.round(value / MOTION_UNIT_MAS));
	column(12 * count, (s, o, i) => bytes.writeInt16LE(motion(s.motion[0]), o + 2 * i));
	column(14 * count, (s, o, i) => bytes.writeInt16LE(motion(s.motion[1]), o + 2 * i));
	column(16 * count, (s, o, i) => bytes.writeInt16LE(Math.round(s.mag * 100), o + 2 * i));
	// Each column's first bytes, then its second ones, …: equal bytes lie together, and the table packs to four fifths.
	const packed = Buffer.alloc(bytes.length);
	let start = 0;
	for (const width of COLUMN_WIDTHS) {
		for (let i = 0; i < count; i++)
			for (let b = 0; b < width; b++) packed[start + b * count + i] = bytes[start + width * i + b];
		start += width * count;
	}
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
		`export const STAR_COUNT = ${count};`,
		"/** Bytes of the columns: RA u32 and Dec i32 (1e-6 deg), HIP u32, proper motion i16 × 2, V magnitude i16 (0.01), little-endian. */",
		`export const COLUMN_WIDTHS = ${JSON.stringify(COLUMN_WIDTHS).replace(/,/g, ", ")} as const;`,
		"/** Base64 of the columns one after the other; of each all first bytes, then all second ones, and so on. */",
		`export const STAR_COLUMNS =\n\t"${packed.toString("base64")}";`,
		"/** `proper name;Bayer letter;Flamsteed number;constellation`, one star after the other, `|` between them. */",
		`export const STAR_LABELS =\n\t"${stars.map(label).join("|")}";`,
		"/** Milliarcseconds a year in one unit of the proper-motion columns. */",
		`export const MOTION_UNIT_MAS = ${MOTION_UNIT_MAS};`,
		"",
	].join("\n");
}
