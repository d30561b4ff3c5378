/** What was traced of a site, point by point, as its keys `skyline`, `openings` and `obstructions`. */

import type { TracedPart } from "../../shared/protocol/tracing.ts";
import type { SkyPoint } from "../../shared/sky/outline.ts";
import { turn } from "../../shared/sky/vector.ts";
import { scalarText } from "../../shared/text/scalar.ts";

/** A closed line with its name. */
export interface NamedOutline {
	readonly name: string;
	readonly outline: readonly SkyPoint[];
}

/** Something that hides the sky, with its hole. */
export interface TracedObstruction extends NamedOutline {
	readonly window: readonly SkyPoint[] | undefined;
}

/** A point that says what it belongs to. */
export interface PartPoint {
	readonly part: TracedPart;
	readonly name: string;
	readonly bearing: number;
	readonly altitude: number;
}

/** Why points make no outlines. */
export type OutlineProblem =
	| { readonly code: "corners"; readonly name: string; readonly count: number }
	| { readonly code: "loose"; readonly name: string };

/** Corners of one outline, as a plan takes them. */
const MOST_CORNERS = 500;

/** Openings and obstructions of points; those of one part and name, in their order, are the corners of one. */
export function outlinesOf(
	points: readonly PartPoint[],
):
	| { readonly openings: readonly NamedOutline[]; readonly obstructions: readonly TracedObstruction[] }
	| OutlineProblem {
	const grouped = (part: TracedPart): ReadonlyMap<string, readonly SkyPoint[]> => {
		const found = new Map<string, SkyPoint[]>();
		for (const { part: own, name, bearing, altitude } of points)
			if (own === part) found.set(name, [...(found.get(name) ?? []), [bearing, altitude]]);
		return found;
	};
	const [openings, obstructions, windows] = [grouped("opening"), grouped("obstruction"), grouped("window")];
	for (const one of [windows, openings, obstructions])
		for (const [name, { length: count }] of one)
			if (count < 3 || count > MOST_CORNERS) return { code: "corners", name, count };
	const loose = [...windows.keys()].find((name) => !obstructions.has(name));
	if (loose !== undefined) return { code: "loose", name: loose };
	return {
		openings: [...openings].map(([name, outline]) => ({ name, outline })),
		obstructions: [...obstructions].map(([name, outline]) => ({ name, outline, window: windows.get(name) })),
	};
}

const round = (value: number): number => Math.round(value * 100) / 100 + 0;

/** A point as a plan writes it, to a hundredth of a degree. */
export const pointText = ([bearing, altitude]: SkyPoint): string =>
	`[${round(turn(round(bearing)))}, ${round(altitude)}]`;

/** A list of points as a plan writes it, on one line. */
export const pointsText = (points: readonly SkyPoint[]): string => `[${points.map(pointText).join(", ")}]`;

/** An entry of `openings`. */
export const openingText = ({ name, outline }: NamedOutline): string =>
	namedText(name, `outline: ${pointsText(outline)}`);

/** An entry of `obstructions`. */
export const obstructionText = ({ name, outline, window }: TracedObstruction): string =>
	namedText(name, `outline: ${pointsText(outline)}${window ? `, window: ${pointsText(window)}` : ""}`);

const namedText = (name: string, keys: string): string => `{ name: ${scalarText(name, { flow: true })}, ${keys} }`;
