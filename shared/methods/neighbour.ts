/** The star that another is easily taken for: near it, and about as bright. */
import { degrees } from "../notation/angle.ts";
import { cosBetween, type Star, starAt, starColumns } from "../sky/stars.ts";
import { DEG, RAD } from "../sky/vector.ts";
import { type Phrase, sentences } from "../text/sentence.ts";
import type { Mark } from "./method.ts";

const words = sentences("method.neighbour", {
	mind: " Do not mistake {star} for it: {angle} away, and about as bright or brighter.",
});

/** How far it may be, degrees, and by how much it may be fainter, magnitudes. Common practice, no source. */
export const NEIGHBOURHOOD = 2;
const LIKE_BRIGHTNESS = 0.7;

export interface Neighbour {
	readonly star: Star;
	readonly separation: number;
}

/** The nearest star within 2° that is as bright, or brighter, or fainter by no more than 0.7. */
export function likeNeighbour(index: number): Neighbour | undefined {
	const { declination, magnitude } = starColumns();
	const own = declination[index] as number;
	let best: { index: number; cos: number } | undefined;
	const cosLimit = Math.cos(NEIGHBOURHOOD * RAD);
	for (const step of [-1, 1]) {
		for (
			let i = index + step;
			i >= 0 && i < declination.length && Math.abs((declination[i] as number) - own) <= NEIGHBOURHOOD;
			i += step
		) {
			if ((magnitude[i] as number) > (magnitude[index] as number) + LIKE_BRIGHTNESS) continue;
			const cos = cosBetween(i, index);
			// Nearer than an arcminute the two look like one star.
			if (cos >= cosLimit && cos < 1 - 4e-8 && cos > (best?.cos ?? -1)) best = { index: i, cos };
		}
	}
	return best && { star: starAt(best.index), separation: Math.acos(best.cos) * DEG };
}

/** A sentence that warns of it, behind others; nothing where there is none. */
export function mindNeighbour({ body }: Mark): Phrase | string {
	const near = body?.type === "star" ? likeNeighbour(body.star.index) : undefined;
	return near ? words.mind({ star: near.star.name, angle: degrees(near.separation) }) : "";
}
