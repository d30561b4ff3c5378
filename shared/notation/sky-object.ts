/** What an object of the sky is, in words: `nebula, 85′ × 60′, magnitude 4.0`. */

import type { ObjectKind, SkyObject } from "../sky/objects.ts";
import type { SkyBody } from "../sky/place.ts";
import { type Phrase, sentences, told } from "../text/sentence.ts";
import { degrees } from "./angle.ts";

const words = sentences("notation.sky-object", {
	openCluster: "open cluster",
	globularCluster: "globular cluster",
	galaxy: "galaxy",
	nebula: "nebula",
	reflectionNebula: "reflection nebula",
	planetaryNebula: "planetary nebula",
	supernovaRemnant: "supernova remnant",
	darkNebula: "dark nebula",
	starField: "star field",
	constellation: "constellation",
	reach: "about {size} across",
	magnitude: "magnitude {magnitude}",
	known: "{name} ({number})",
});

/** Its kind, its size on maps, its magnitude. */
export function objectText({ kind, size, magnitude }: SkyObject): string {
	const across =
		kind === "constellation" ? told(words.reach({ size: degrees(size[0] ?? 0, 0) })) : size.map(sizeText).join(" × ");
	return [
		told(kindWord(kind)),
		across,
		magnitude === undefined ? "" : told(words.magnitude({ magnitude: magnitude.toFixed(1) })),
	]
		.filter((part) => part !== "")
		.join(", ");
}

/** The kind alone. */
export const kindName = ({ kind }: SkyObject): string => told(kindWord(kind));

const kindWord = (kind: ObjectKind): Phrase => words[kind]();

/** The object's best known name and its number. */
export function objectName({ name, spellings }: SkyObject): string {
	const number = spellings.find((one) => /^(M|NGC |IC )\d/.test(one));
	return number === undefined || number === name ? name : told(words.known({ name, number }));
}

/** The object that a body is, if it is one. */
export const objectOf = (body: SkyBody | undefined): SkyObject | undefined =>
	body?.type === "fixed" ? body.object : undefined;

/** `85′`, from two degrees on `2.5°`. */
const sizeText = (size: number): string =>
	size < 2 ? `${size * 60 < 10 ? Number((size * 60).toFixed(1)) : (size * 60).toFixed(0)}′` : degrees(size);
