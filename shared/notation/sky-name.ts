/** Names of stars and bodies. Whether one exists is a finding of its own. */

import { isCometLine } from "../sky/comet-line.ts";
import { objectSpellings } from "../sky/objects.ts";
import { findBody, PLACE_NAMES } from "../sky/place.ts";
import { starSpellings } from "../sky/stars.ts";
import { sentences } from "../text/sentence.ts";
import { readComet } from "./comet.ts";
import type { CompletionContext, Notation, Offer } from "./notation.ts";
import { type Refused, scalar } from "./scalar.ts";
import { objectOf, objectText } from "./sky-object.ts";
import { NAME_SCHEMA, readName } from "./text.ts";

const words = sentences("notation.sky-name", {
	star: "the name of a star",
	body: "the name of a star, planet, object, constellation, the Moon or the Sun, or a comet's line of elements",
	offered: "star",
	pole: "the point about which the sky turns",
	arch: "the galactic equator from skyline to skyline; the aim is its top",
});

const skyName = (of: "star" | "body"): Notation<string> =>
	scalar({
		type: "sky-name",
		describe: words[of],
		readText: of === "star" ? readName : readBody,
		schema: () => NAME_SCHEMA,
		complete: (context) => skyOffers(of, context),
		names: of,
		colour: "class",
	});

/** A name, or a comet's line of elements, which is asked for its columns. */
function readBody(text: string): string | Refused {
	return isCometLine(text) ? readComet(text) : readName(text);
}

const STAR = skyName("star");
const BODY = skyName("body");

/** A star by name, letter or number. */
export const starName = (): Notation<string> => STAR;
/** A star, a planet, the Moon, the Sun, the galactic centre, a celestial pole, an object or a constellation. */
export const bodyName = (): Notation<string> => BODY;

/**
 * Those that serve tonight, then the bodies, then objects and stars by what is typed of their names; in the same order
 * after them what is of no use tonight, which says why.
 */
function skyOffers(of: "star" | "body", context: CompletionContext): readonly Offer[] {
	return offersInOrder(of, context).map((one) => {
		const why = one.kind === "sky" ? undefined : context.useless(one.label);
		return why ? { ...one, detail: why, order: (one.order ?? 0) + USELESS } : one;
	});
}

/** Added to the order of what is of no use. */
const USELESS = 5000;

function offersInOrder(of: "star" | "body", { ranked, bodies, typed, most }: CompletionContext): readonly Offer[] {
	const offers: Offer[] = ranked().map(({ name, detail }) => ({ label: name, detail, kind: "sky" }));
	const known = new Set(offers.map(({ label }) => label));
	for (const { name, detail } of of === "body" ? bodies(known) : [])
		offers.push({ label: name, detail, kind: "value", order: 1000 + offers.length });
	if (of === "body") {
		for (const name of PLACE_NAMES)
			if (hasInOrder(name, typed))
				offers.push({
					label: name,
					detail: name.endsWith("pole") ? words.pole() : words.arch(),
					kind: "value",
					order: 1100,
				});
		const objects = namesLike(objectSpellings(), typed, known, Math.floor((most - offers.length) / 2));
		for (const [i, name] of objects.entries()) {
			const object = objectOf(findBody(name));
			if (object) offers.push({ label: name, detail: objectText(object), kind: "value", order: 1200 + i });
		}
	}
	const stars = namesLike(starSpellings(), typed, known, most - offers.length);
	return [
		...offers,
		...stars.map((name, i): Offer => ({ label: name, detail: words.offered(), kind: "value", order: 2000 + i })),
	];
}

/** Names that have the letters typed in their order, as editors match them. */
function namesLike(
	names: Iterable<string>,
	typed: string,
	known: ReadonlySet<string>,
	most: number,
): readonly string[] {
	const found: string[] = [];
	for (const name of names) {
		if (found.length >= most) break;
		if (!known.has(name) && hasInOrder(name.toLowerCase(), typed)) found.push(name);
	}
	return found;
}

function hasInOrder(name: string, typed: string): boolean {
	let at = 0;
	for (const letter of typed) {
		at = name.indexOf(letter, at) + 1;
		if (at === 0) return false;
	}
	return true;
}
