/**
 * Why a frame's stars fit no part of the sky through the plan's lens: its picture was flipped, cut, or taken through
 * another lens. Each is tried, and what its stars then are is accepted as strictly as ever.
 */
import type { Freedom } from "./fit.ts";
import {
	ACCEPTED,
	type Found,
	fitMatches,
	type Identification,
	identify,
	matchesOf,
	type Search,
	starsShown,
	toleranceOf,
	usedOf,
} from "./identify.ts";
import { halfDiagonal, type LensMap } from "./lens-map.ts";
import type { ReadFrame } from "./solve.ts";

/** How a frame's stars fit after all. */
export interface Misfit {
	readonly mirrored: boolean;
	/** The lens on the picture as it is, its axis where the stars have it. */
	readonly map: LensMap;
	/** Stars that were identified. */
	readonly stars: number;
	/** Whether they tell where the axis is: on a long lens it hardly shows. */
	readonly axisKnown: boolean;
}

/** A way in which a picture may have come about. */
export interface Guess {
	readonly mirrored: boolean;
	readonly map: LensMap;
}

/** Stars with which the axis is solved too. */
const FOR_AXIS = 20;
/** The axis is known to so much by its stars, one standard deviation, half diagonals: by far more than beforehand (`USUAL`). */
const AXIS_WITHIN = 0.003;

/** The first of the guesses with which a frame's stars are identified. `search`: where the camera is expected to look. */
export function misfitOf(
	{ found: { spots }, sky }: Pick<ReadFrame, "found" | "sky">,
	guesses: readonly Guess[],
	search: Search,
): Misfit | undefined {
	// As many ways to be right by chance as there are guesses.
	const accepted = ACCEPTED - Math.log10(Math.max(1, guesses.length));
	for (const { mirrored, map } of guesses) {
		const seen = mirrored ? spots.map((one) => ({ ...one, right: -one.right })) : spots;
		const known = identify(seen, sky, map, { ...search, quick: true });
		if (!known || known.logChance > accepted) continue;
		const { map: own, ...rest } = refined(seen, sky, known);
		return { mirrored, map: mirrored ? { ...own, axisRight: -own.axisRight } : own, ...rest };
	}
	return undefined;
}

/**
 * The lens wherever the stars have it: of a picture that was cut its axis can be anywhere, so that what is usual for a lens
 * counts from where the last step left it.
 */
function refined(
	found: readonly Found[],
	sky: ReadFrame["sky"],
	known: Identification,
): Pick<Misfit, "map" | "stars" | "axisKnown"> {
	let { attitude, map, matches } = known;
	let axisKnown = false;
	for (const pixels of [35, 35, 35, 25, 18, 12, 9, 5, 5]) {
		const tolerance = toleranceOf(pixels, map);
		const shown = starsShown(sky, attitude, map);
		const next = matchesOf(found, usedOf(found, shown), shown, map, tolerance);
		if (next.length < matches.length / 2) break;
		matches = next;
		const freedom: Freedom = matches.length < 10 ? "focal" : matches.length < FOR_AXIS ? "bent" : "lens";
		const fit = fitMatches(found, sky, { attitude, map, matches }, freedom, tolerance, map);
		[attitude, map] = [fit.attitudes[0] ?? attitude, fit.map];
		// Three turns, the focal length and k₁ come before it.
		const spread = map.focal * Math.sqrt(Math.max(...[5, 6].map((i) => fit.covariance[i]?.[i] ?? 1)));
		axisKnown = freedom === "lens" && spread < AXIS_WITHIN * halfDiagonal(map);
	}
	return { map, stars: matches.length, axisKnown };
}
