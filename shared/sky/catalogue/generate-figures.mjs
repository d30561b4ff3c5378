// Writes shared/sky/catalogue/figures.ts: the lines of the constellations' figures between their stars, from
// d3-celestial's constellations.lines.json (BSD-3). Run through `npm run generate`.
import { createRequire } from "node:module";

const require = createRequire(import.meta.url);

/** Tenths of a degree: a third of a pixel of the widest picture. */
const tenths = (value) => Math.round(value * 10);

export function figures() {
	const { features } = require("d3-celestial/data/constellations.lines.json");
	const lines = features.flatMap(({ geometry }) =>
		geometry.coordinates.map((line) => line.map(([ra, dec]) => `${tenths((ra + 360) % 360)} ${tenths(dec)}`).join(" ")),
	);
	return [
		"// Written by generate-figures.mjs: do not edit. Source: d3-celestial 0.7.35 (BSD-3), constellations.lines.json.",
		"/** Lines between stars: right ascension and declination (J2000) in turn, tenths of a degree; `|` between two lines. */",
		"export const FIGURES =",
		`\t${JSON.stringify(lines.join("|"))};`,
		"",
	].join("\n");
}
