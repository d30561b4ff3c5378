// Writes shared/sky/catalogue/object-table.ts: Messier's objects, the brighter NGC and IC ones, the Magellanic Clouds and
// the constellations, from the d3-celestial devDependency (BSD-3: messier.json, dsos.14.json, constellations.json and
// their bounds) and object-names.csv beside this file. Run through `npm run generate`.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";

const require = createRequire(import.meta.url);
const RAD = Math.PI / 180;

/** NGC and IC objects are taken to this magnitude, fainter ones where they are as wide as this (arcmin). */
const FAINTEST = 9;
const WIDE = 10;

/** The sources' types to those that are told. */
const TYPES = {
	oc: "o",
	gc: "g",
	s: "x",
	s0: "x",
	sd: "x",
	e: "x",
	i: "x",
	bn: "n",
	en: "n",
	sfr: "n",
	rn: "r",
	pn: "p",
	snr: "v",
	dn: "d",
	pos: "f",
};

const read = (name) => require(`d3-celestial/data/${name}.json`).features;
const turned = (degrees) => (degrees + 360) % 360;

export function objectTable() {
	const rows = new Map();
	const add = (id, { properties, geometry }, alias = "") => {
		const [ra, dec] = geometry.coordinates;
		const { mag, dim, type } = properties;
		rows.set(id, { id, alias, names: "", type, mag: magnitude(mag), dim: `${dim ?? ""}`, ra: turned(ra), dec });
	};
	const deep = new Map(read("dsos.14").map((one) => [one.id, one]));
	const ofMessier = new Set();
	for (const one of read("messier")) {
		const { desig } = one.properties;
		const alias = /^(NGC|IC) \d+/.exec(desig)?.[0] ?? "";
		ofMessier.add(alias);
		add(one.id, one, alias);
		// Messier's list has places to 0.1 min of time only.
		const better = deep.get(one.id.replace("M", "M ")) ?? deep.get(alias);
		const row = rows.get(one.id);
		if (better) [row.ra, row.dec] = [turned(better.geometry.coordinates[0]), better.geometry.coordinates[1]];
	}
	const own = readFileSync(fileURLToPath(new URL("object-names.csv", import.meta.url)), "utf8")
		.split("\n")
		.filter((line) => line !== "" && !line.startsWith("#"))
		.map((line) => line.split(","));
	const named = new Set(own.map(([id]) => id));
	for (const [id, one] of deep) {
		if (ofMessier.has(id) || rows.has(id) || /^M /.test(id)) continue;
		const { mag, dim } = one.properties;
		const bright = /^(NGC|IC) \d+$/.test(id) && (magnitude(mag) <= FAINTEST || Number.parseFloat(dim) >= WIDE);
		if (bright || named.has(id)) add(id, one);
	}
	for (const [id, names, type, mag, dim, ra, dec] of own) {
		if (!rows.has(id)) add(id, { properties: { type, dim }, geometry: { coordinates: [Number(ra), Number(dec)] } });
		const row = rows.get(id);
		row.names = names;
		if (type) row.type = type;
		if (mag) row.mag = Number(mag);
		if (dim) row.dim = dim;
		if (ra) [row.ra, row.dec] = [Number(ra), Number(dec)];
	}
	const lines = [...rows.values()].map(({ id, alias, names, type, mag, dim, ra, dec }) => {
		if (!TYPES[type]) throw new Error(`${id}: type ${type}`);
		const size = dim
			.split("x")
			.map((part) => Number.parseFloat(part))
			.filter((part) => part > 0)
			.map((part) => Number(part.toPrecision(3)));
		const shownSize = size.length === 2 && size[0] === size[1] ? `${size[0]}` : size.join("x");
		return [id, alias, names, TYPES[type], mag < 90 ? mag : "", shownSize, round(ra), round(dec)].join(";");
	});
	return [
		"// Written by generate-objects.mjs: do not edit. Sources: d3-celestial 0.7.35 (BSD-3), object-names.csv.",
		"/**",
		" * `id;other number;common names;type;magnitude;size, arcmin;right ascension;declination`, J2000, in units of 0.001°,",
		" * one object after the other, `|` between them.",
		" */",
		`export const OBJECTS =\n\t"${lines.join("|")}";`,
		"/** `name;right ascension;declination;width` of the constellations, degrees, from their boundaries. */",
		`export const CONSTELLATION_PLACES =\n\t"${constellations().join("|")}";`,
		"",
	].join("\n");
}

const magnitude = (value) => (value === "" || value === undefined || Number(value) > 90 ? 99 : Number(value));
const round = (degrees) => Math.round(degrees * 1000);

/** The middle of each area on the sphere, and twice the angle to its farthest corner. */
function constellations() {
	const names = read("constellations").map(({ id, properties }) => [
		id,
		properties.name === "Corona Austrina" ? "Corona Australis" : properties.name,
	]);
	const parts = new Map();
	for (const { id, geometry } of read("constellations.bounds")) {
		const ring = geometry.type === "Polygon" ? geometry.coordinates[0] : geometry.coordinates[0][0];
		parts.set(id, [...(parts.get(id) ?? []), ring]);
	}
	return names.map(([id, name]) => {
		const rings = parts.get(id);
		// Serpens has two parts, its head first.
		const ring = rings.length === 1 ? rings[0] : ringNear(rings, name);
		const corners = ring.map(([ra, dec]) => [
			Math.cos(dec * RAD) * Math.cos(ra * RAD),
			Math.cos(dec * RAD) * Math.sin(ra * RAD),
			Math.sin(dec * RAD),
		]);
		const middle = middleOf(corners);
		const far = Math.max(...corners.map((corner) => Math.acos(Math.min(1, dot(corner, middle)))));
		const [ra, dec] = [turned(Math.atan2(middle[1], middle[0]) / RAD), Math.asin(middle[2]) / RAD];
		return [name, ra.toFixed(1), dec.toFixed(1), Math.round((2 * far) / RAD)].join(";");
	});
}

const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];

/** Serpens: the head is west of the tail. */
function ringNear(rings, name) {
	const west = [...rings].sort((a, b) => turned(a[0][0]) - turned(b[0][0]));
	return name.endsWith("Caput") ? west[0] : west.at(-1);
}

/**
 * The direction of the vector area of a spherical polygon, which is half the sum of its sides' lengths times their poles:
 * the mean of its points (Stokes' theorem).
 */
function middleOf(corners) {
	const sum = [0, 0, 0];
	for (const [i, a] of corners.entries()) {
		const b = corners[(i + 1) % corners.length];
		const pole = cross(a, b);
		const sine = Math.hypot(...pole);
		if (sine < 1e-12) continue;
		const side = Math.atan2(sine, dot(a, b));
		for (let k = 0; k < 3; k++) sum[k] += (pole[k] / sine) * side;
	}
	const size = Math.hypot(...sum);
	const middle = sum.map((x) => x / size);
	const mean = corners.reduce((all, corner) => all + dot(corner, middle), 0);
	return mean < 0 ? middle.map((x) => -x) : middle;
}
