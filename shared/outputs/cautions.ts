/**
 * The cautions that belong to a plan. They are the usual ones, and defer to local rules, authorities and licensed
 * guides; sources beside each where there is one.
 */
import type { Evaluation } from "../evaluate/evaluate.ts";

export const CAUTIONS = {
	// 18 U.S.C. 39A (US); Laser Misuse (Vehicles) Act 2018 (UK); IEC 60825-1 (classes).
	laser:
		"Laser: never at or near aircraft, vehicles, people or animals; watch and listen before lighting it, and stop while anything flies near. Laws on class and power, and the rules of parks, differ: ask first. Mind the frames and the night vision of others.",
	// Common practice, no source.
	sun: "Sun: never look at it, never sight it through anything. Use a shadow.",
	// Spring tides and being cut off: RNLI; groups and lights in caves: NPS RM-77. Here common practice.
	ground:
		"Ground: see the stand by daylight first. Mind edges, loose rock, heat and cold; in gorges rain far away, by the sea the tide tables. Tell somebody where you are and when you will be back. Follow local authorities and licensed guides, and ask for access.",
	// Common practice, no source.
	magnet: "Compass: batteries, tripods, cars and some rock bend it without a sign. Step away, and read twice.",
} as const;

export type Caution = keyof typeof CAUTIONS;

/** The cautions that belong to the methods of a plan and to its stand. */
export function cautionsFor({ methods, site }: Evaluation): readonly Caution[] {
	const used = methods.flatMap(({ value }) => value ?? []);
	const cautions: Caution[] = [];
	if (used.some(({ method }) => method.usesLaser)) cautions.push("laser");
	if (used.some(({ plan }) => plan.setUp.marks?.some((mark) => mark.body?.type === "sun"))) cautions.push("sun");
	if (used.some(({ method }) => method.kind === "compass" || method.kind === "phone")) cautions.push("magnet");
	if (site) cautions.push("ground");
	return cautions;
}
