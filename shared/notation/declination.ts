/** Magnetic declinations: `26.6° west`, the way the needle points off true north. */
import { type Phrase, sentences } from "../text/sentence.ts";

const words = sentences("notation.declination", { east: "{angle}° east", west: "{angle}° west" });

export function declinationText(degrees: number): Phrase {
	const angle = Math.abs(degrees).toFixed(1);
	return degrees < 0 ? words.west({ angle }) : words.east({ angle });
}
