// Writes shared/sky/catalogue/milky-way.ts: the edges of the Milky Way's bright band, galactic latitude by galactic
// longitude, from the outlines of d3-celestial's mw.json (BSD-3). Run through `npm run generate`.
import { createRequire } from "node:module";

const require = createRequire(import.meta.url);
const RAD = Math.PI / 180;
// North galactic pole and the longitude of the celestial pole, J2000 (Hipparcos' definition of the IAU 1958 system).
const POLE = { ra: 192.85948, dec: 27.12825, l: 122.93192 };
const STEP = 10;

function galactic([ra, dec]) {
	const [d, p, a] = [dec * RAD, POLE.dec * RAD, (ra - POLE.ra) * RAD];
	const b = Math.asin(Math.sin(d) * Math.sin(p) + Math.cos(d) * Math.cos(p) * Math.cos(a));
	const y = Math.cos(d) * Math.sin(a);
	const x = Math.sin(d) * Math.cos(p) - Math.cos(d) * Math.sin(p) * Math.cos(a);
	return [(((POLE.l - Math.atan2(y, x) / RAD) % 360) + 360) % 360, b / RAD];
}

export function milkyWay() {
	const { features } = require("d3-celestial/data/mw.json");
	const outline = features.find(({ id }) => id === "ol2").geometry.coordinates.flat(2);
	const bins = Array.from({ length: 360 / STEP }, () => [-3, 3]);
	for (const point of outline) {
		const [l, b] = galactic(point);
		if (Math.abs(b) > 25) continue;
		const bin = bins[Math.round(l / STEP) % bins.length];
		bin[0] = Math.min(bin[0], b);
		bin[1] = Math.max(bin[1], b);
	}
	const rows = bins.map(([south, north], i) =>
		`\t[${i * STEP}, ${south.toFixed(1)}, ${north.toFixed(1)}],`.replace(/\.0(?=[,\]])/g, ""),
	);
	return [
		"// Written by generate-milky-way.mjs: do not edit. Source: d3-celestial 0.7.35 (BSD-3), mw.json.",
		"/** Galactic longitude, and the latitudes of the band's southern and northern edges there, degrees. */",
		"export const MILKY_WAY: readonly (readonly [longitude: number, south: number, north: number])[] = [",
		...rows,
		"];",
		"",
	].join("\n");
}
