/** What the stars say of the lens, for the plan. */
import { DISTORTION_WITHIN } from "../cells/lens/keys.ts";
import type { EvaluatedLens } from "../cells/lens/lens.ts";
import { isOffCentre, type LensMap } from "../frames/lens-map.ts";
import type { SolvedLens } from "./lens-edits.ts";
import type { Measured } from "./measure.ts";

/** The focal length by the stars, millimetres. */
export const solvedFocalLength = ({ focal, width, height }: LensMap, { camera }: EvaluatedLens): number =>
	(focal * Math.max(...camera.sensor)) / Math.max(width, height);

/** What the plan can keep of the lens; undefined where the stars were too few to solve all of it, or the frames were cropped, or say what no lens does. */
export function solvedLens({
	map,
	lens,
	lensKnown,
}: Pick<Measured, "map" | "lens" | "lensKnown">): SolvedLens | undefined {
	if (!map || !lensKnown || isOffCentre(map)) return undefined;
	const { k1, k2 } = DISTORTION_WITHIN;
	if (map.k1 < k1.min || map.k1 > k1.max || map.k2 < k2.min || map.k2 > k2.max) return undefined;
	return { lens: lens.name, focalLength: solvedFocalLength(map, lens), k1: map.k1, k2: map.k2 };
}
