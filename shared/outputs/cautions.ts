/**
 * The cautions that belong to a plan. They are the usual ones, and defer to local rules, authorities and licensed
 * guides; sources beside each where there is one.
 */
import type { Evaluation } from "../evaluate/evaluate.ts";
import type { Hazard } from "../methods/method.ts";
import { sentences, told } from "../text/sentence.ts";

const words = sentences("output.cautions", {
	// 18 U.S.C. 39A (US); Laser Misuse (Vehicles) Act 2018 (UK); IEC 60825-1 (classes).
	laser: `Laser: never at or near aircraft, vehicles, people or animals; watch and listen before lighting it, and stop
		while anything flies near. Laws on class and power, and the rules of parks, differ: ask first. Mind the frames and
		the night vision of others.`,
	// Common practice, no source.
	sun: "Sun: never look at it, never sight it through anything. Use a shadow.",
	// Spring tides and being cut off: RNLI; groups and lights in caves: NPS RM-77. Here common practice.
	ground: `Ground: see the stand by daylight first. Mind edges, loose rock, heat and cold; in gorges rain far away, by
		the sea the tide tables. Tell somebody where you are and when you will be back. Follow local authorities and
		licensed guides, and ask for access.`,
	// Common practice, no source.
	magnet: "Compass: batteries, tripods, cars and some rock bend it without a sign. Step away, and read twice.",
});

/** Which of a method's hazards a caution speaks of. */
const HAZARDS: readonly Hazard[] = ["laser", "sun", "magnet"];

/** The cautions that belong to the methods of a plan and to its site. */
export function cautionsFor({ methods, site }: Evaluation): readonly string[] {
	const hazards = new Set(methods.flatMap(({ value }) => value?.method.hazards(value.content) ?? []));
	return [...HAZARDS.filter((hazard) => hazards.has(hazard)), ...(site ? (["ground"] as const) : [])].map((name) =>
		told(words[name]()),
	);
}
