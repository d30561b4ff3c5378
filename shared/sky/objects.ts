/**
 * Objects beyond the stars by number and name: Messier's, the brighter ones of the New General and the Index Catalogue,
 * the Magellanic Clouds; and the constellations. Places are J2000, to a thousandth of a degree; a constellation's is the
 * middle of its area, to a tenth.
 */
import { lazily } from "../memory/memory.ts";
import { GREEK } from "./catalogue/constellations.ts";
import { CONSTELLATION_PLACES, OBJECTS } from "./catalogue/object-table.ts";

export interface SkyObject {
	/** The best known name, else the number. */
	readonly name: string;
	/** Number and names, the way they are best known first. */
	readonly spellings: readonly string[];
	readonly kind: ObjectKind;
	/** V, of all its light. */
	readonly magnitude: number | undefined;
	/** Longer and shorter side as it is drawn on maps, degrees; of a constellation how far its area reaches. */
	readonly size: readonly number[];
	/** Degrees, J2000. */
	readonly rightAscension: number;
	readonly declination: number;
}

export type ObjectKind = (typeof KINDS)[keyof typeof KINDS] | "constellation";

const KINDS = {
	o: "openCluster",
	g: "globularCluster",
	x: "galaxy",
	n: "nebula",
	r: "reflectionNebula",
	p: "planetaryNebula",
	v: "supernovaRemnant",
	d: "darkNebula",
	f: "starField",
} as const;

/** Finds an object or a constellation by number or name, however it is written: `M42`, `Messier 42`, `ω Cen`, `ngc7000`. */
export const findObject = (name: string): SkyObject | undefined => byKey().get(keyOf(name));

/** Every object and constellation: those with a common name first, then Messier's, then constellations, then the others. */
export const skyObjects = lazily((): readonly SkyObject[] => {
	const all = OBJECTS.split("|").map(objectOf);
	const rank = ({ spellings: [first = ""], kind }: SkyObject): number =>
		kind === "constellation" ? 2 : /^M\d/.test(first) ? 1 : /^(NGC|IC) \d/.test(first) ? 3 : 0;
	return [...all, ...CONSTELLATION_PLACES.split("|").map(constellationOf)].sort((a, b) => rank(a) - rank(b));
});

/** Spellings to look for the nearest among. */
export const objectSpellings = lazily((): readonly string[] => skyObjects().flatMap(({ spellings }) => spellings));

/** Numbers of lists that nobody goes by: their objects are known by name. */
const UNUSED = /^(C|PGC) /;

function objectOf(row: string): SkyObject {
	const [id = "", other = "", names = "", kind = "n", magnitude = "", size = "", ra = "", dec = ""] = row.split(";");
	const common = names === "" ? [] : names.split("/");
	const spellings = [...common, ...(UNUSED.test(id) ? [] : [id]), ...(other === "" ? [] : [other])];
	return {
		name: spellings[0] ?? id,
		spellings,
		kind: KINDS[kind as keyof typeof KINDS],
		magnitude: magnitude === "" ? undefined : Number(magnitude),
		size: size === "" ? [] : size.split("x").map((part) => Number(part) / 60),
		rightAscension: Number(ra) / 1000,
		declination: Number(dec) / 1000,
	};
}

function constellationOf(row: string): SkyObject {
	const [name = "", rightAscension, declination, width] = row.split(";");
	return {
		name,
		spellings: [name],
		kind: "constellation",
		magnitude: undefined,
		size: [Number(width)],
		rightAscension: Number(rightAscension),
		declination: Number(declination),
	};
}

const byKey = lazily((): ReadonlyMap<string, SkyObject> => {
	const found = new Map<string, SkyObject>();
	for (const object of skyObjects())
		for (const spelling of object.spellings) {
			const key = keyOf(spelling);
			if (!found.has(key)) found.set(key, object);
		}
	return found;
});

/** Spellings that mean the same object get the same key: small letters, no accents, letters and numbers joined. */
function keyOf(name: string): string {
	return name
		.slice(0, 80)
		.normalize("NFD")
		.replace(/[\u0300-\u036f'’`´]/g, "")
		.toLowerCase()
		.replace(/[α-ω]/g, (letter) => GREEK.get(letter) ?? letter)
		.replace(/[\s_-]+/g, " ")
		.trim()
		.replace(/^the /, "")
		.replace(/^messier ?(?=\d)/, "m")
		.replace(/^([a-z]+) ?0*(?=[1-9]\d*$)/, "$1");
}
