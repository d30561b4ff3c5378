/** Meteor showers by name or by the three letters of the IAU. */
import { findShower, peakNear, SHOWERS, type Shower } from "../sky/showers.ts";
import { nearestWord } from "../text/nearest.ts";
import { type Phrase, sentences } from "../text/sentence.ts";
import type { Notation } from "./notation.ts";
import { Refused, scalar } from "./scalar.ts";

const words = sentences("notation.shower", {
	described: "the name of a meteor shower",
	explained: "the name of a meteor shower, or its three letters: {names}",
	offered: "peak about {day} {month}",
	m1: "January",
	m2: "February",
	m3: "March",
	m4: "April",
	m5: "May",
	m6: "June",
	m7: "July",
	m8: "August",
	m9: "September",
	m10: "October",
	m11: "November",
	m12: "December",
});

/** A year of the present: peaks come on the same day of each, or the next. */
const YEAR = Date.UTC(2027, 6, 1);

const MONTHS = ["m1", "m2", "m3", "m4", "m5", "m6", "m7", "m8", "m9", "m10", "m11", "m12"] as const;

function aboutWhen(shower: Shower): Phrase {
	const peak = new Date(peakNear(shower, YEAR));
	return words.offered({ day: peak.getUTCDate(), month: [words[MONTHS[peak.getUTCMonth()] ?? "m1"]()] });
}

const SHOWER = scalar<string>({
	type: "shower",
	describe: words.described,
	explain: () => words.explained({ names: SHOWERS.map(({ name, code }) => `${name} (${code})`).join(", ") }),
	readText(text) {
		const known = SHOWERS.map(({ name }) => name);
		const shower = findShower(text);
		return shower ? shower.name : new Refused({ type: "unknown-word", nearest: nearestWord(text, known), known });
	},
	schema: () => ({ type: "string", minLength: 3 }),
	complete: () => SHOWERS.map((shower) => ({ label: shower.name, detail: aboutWhen(shower), kind: "word" })),
	colour: "enumMember",
});

/** A meteor shower; its name as the list has it. */
export const showerName = (): Notation<string> => SHOWER;
