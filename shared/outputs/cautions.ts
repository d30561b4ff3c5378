/**
 * The cautions that belong to a plan. They are the usual ones, and defer to local rules, authorities and licensed
 * guides; sources beside each where there is one.
 */
import type { EvaluatedMethod } from "../cells/method/method.ts";
import type { Evaluation } from "../evaluate/evaluate.ts";
import type { Hazard } from "../methods/method.ts";
import { sentences, told } from "../text/sentence.ts";

const words = sentences("output.cautions", {
	// 18 U.S.C. 39A (US); Laser Misuse (Vehicles) Act 2018 (UK); IEC 60825-1 (classes).
	laser: `Laser: never point it at or near aircraft, vehicles, people or animals. Watch and listen before you switch it
		on, and switch it off while anything flies near. Laws on class and power differ, and parks have rules of their own:
		ask first. It also spoils the frames and the night vision of others.`,
	notCleared: `Not cleared: the plan does not say that a laser is allowed here. Do not switch it on until you have checked
		the local rules; use a sight instead, or another method.`,
	// Common practice, no source.
	sun: "Sun: never look at it, and never sight it through anything. Use a shadow.",
	// Spring tides and being cut off: RNLI; groups and lights in caves: NPS RM-77. Here common practice.
	ground: `Ground: see the site by daylight first. Watch for edges, loose rock, heat and cold; in a gorge for rain far
		away, by the sea for the tide. Tell somebody where you are and when you will be back. Follow local authorities and
		licensed guides, and ask for access.`,
	// Common practice, no source.
	magnet: `Compass: batteries, tripods, cars and some rock deflect it without any sign. Step away from them, and read it
		twice.`,
});

/** Which of a method's hazards a caution speaks of. */
const HAZARDS: readonly Hazard[] = ["laser", "sun", "magnet"];

/** The cautions that belong to one method, before its steps. */
export function cautionsOf({ method, content }: EvaluatedMethod): readonly string[] {
	const hazards = method.hazards(content);
	return HAZARDS.filter((hazard) => hazards.includes(hazard)).map((name) => told(words[name]()));
}

/** That a method may not be used yet; empty once it may. It is said above its steps. */
export const notClearedText = ({ method, content }: EvaluatedMethod): string =>
	(method.isCleared?.(content) ?? true) ? "" : told(words.notCleared());

/** The cautions that belong to the methods of a plan and to its site. */
export function cautionsFor({ methods, site }: Evaluation): readonly string[] {
	const hazards = new Set(methods.flatMap(({ value }) => value?.method.hazards(value.content) ?? []));
	return [...HAZARDS.filter((hazard) => hazards.has(hazard)), ...(site ? (["ground"] as const) : [])].map((name) =>
		told(words[name]()),
	);
}
