// Writes shared/sky/catalogue/milky-way.ts: where the Milky Way's band and its bright parts are, galactic latitude by
// galactic longitude, from the outlines of d3-celestial's mw.json (BSD-3). Run through `npm run generate`.
import { createRequire } from "node:module";

const require = createRequire(import.meta.url);
const RAD = Math.PI / 180;
// North galactic pole and the longitude of the celestial pole, J2000 (Hipparcos' definition of the IAU 1958 system).
const POLE = { ra: 192.85948, dec: 27.12825, l: 122.93192 };
const STEP = 4;
/** The outlines by their brightness: the band, its light parts between the rifts, and the clouds in these. */
const LEVELS = ["ol1", "ol2", "ol3"];
/** Degrees: what is narrower is left out, in the light as in the dark. */
const NARROWEST = 1;
/** The clouds of Magellan are beyond, and are no part of the band. */
const FARTHEST = 27;

function galactic([ra, dec]) {
	const [d, p, a] = [dec * RAD, POLE.dec * RAD, (ra - POLE.ra) * RAD];
	const b = Math.asin(Math.sin(d) * Math.sin(p) + Math.cos(d) * Math.cos(p) * Math.cos(a));
	const y = Math.cos(d) * Math.sin(a);
	const x = Math.sin(d) * Math.cos(p) - Math.cos(d) * Math.sin(p) * Math.cos(a);
	return [(((POLE.l - Math.atan2(y, x) / RAD) % 360) + 360) % 360, b / RAD];
}

/** Stretches of latitude that lie inside of outlines at a longitude: between each two crossings, from the south. */
function stretches(rings, longitude) {
	const crossings = [];
	for (const ring of rings)
		ring.forEach(([l1, b1], i) => {
			const [l2, b2] = ring[(i + 1) % ring.length];
			const [from, to] = [l1 - longitude, l2 - longitude].map((d) => ((((d + 180) % 360) + 360) % 360) - 180);
			if (from < 0 === to < 0 || Math.abs(from - to) > 90) return;
			crossings.push(b1 + ((b2 - b1) * from) / (from - to));
		});
	crossings.sort((a, b) => a - b);
	const found = [];
	for (let i = 0; i + 1 < crossings.length; i += 2) {
		const [south, north] = [crossings[i], crossings[i + 1]];
		const before = found.at(-1);
		if (before && south - before[1] < NARROWEST) before[1] = north;
		else found.push([south, north]);
	}
	return found.filter(([south, north]) => north - south >= NARROWEST && Math.abs((south + north) / 2) < FARTHEST);
}

const text = (value) =>
	String(Math.round(value * 10) / 10 || 0)
		.replace("-0.", "-.")
		.replace(/^0\./, ".");

export function milkyWay() {
	const { features } = require("d3-celestial/data/mw.json");
	const levels = LEVELS.map((level) => {
		const rings = features
			.find(({ id }) => id === level)
			.geometry.coordinates.flat(1)
			.map((ring) => ring.map(galactic));
		return Array.from({ length: 360 / STEP }, (_, i) =>
			stretches(rings, i * STEP + 1e-6)
				.map((stretch) => stretch.map(text).join(" "))
				.join(","),
		).join("|");
	});
	return [
		"// Written by generate-milky-way.mjs: do not edit. Source: d3-celestial 0.7.35 (BSD-3), mw.json.",
		`/** Degrees of galactic longitude from one place to the next. */`,
		`export const MILKY_WAY_STEP = ${STEP};`,
		"/**",
		" * The band, its light parts between the rifts, and the clouds in these. At each longitude, from 0°, the stretches of",
		" * galactic latitude that are so: south and north end, degrees.",
		" */",
		"export const MILKY_WAY: readonly string[] = [",
		...levels.map((level) => `\t${JSON.stringify(level)},`),
		"];",
		"",
	].join("\n");
}
