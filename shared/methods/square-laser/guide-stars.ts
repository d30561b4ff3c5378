/**
 * The search for guide stars: every star that passes within reach of the aim point tonight, in the dark, in view and
 * during the stay, best first. Passes are solved from hour angles, not stepped.
 */

import { hourPlaceOf, passes } from "../../alignment/passes.ts";
import type { EpochMs } from "../../earth/zone.ts";
import type { Direction } from "../../sky/horizontal.ts";
import { both, type Interval } from "../../sky/intervals.ts";
import { sunAltitude } from "../../sky/night.ts";
import { apparentDirection } from "../../sky/place.ts";
import { whereAtLeastZero } from "../../sky/roots.ts";
import { hiddenBy } from "../../sky/skyline.ts";
import { cosBetween, type Star, starAt, starColumns } from "../../sky/stars.ts";
import { DEG, RAD } from "../../sky/vector.ts";
import { faintestAt, missOf, type Tonight } from "../method.ts";

export interface GuideStar {
	readonly star: Star;
	/** When it is nearest the aim point, within the stay and the dark. */
	readonly best: EpochMs;
	/** While it is within reach, in the stay and the dark. */
	readonly from: EpochMs;
	readonly until: EpochMs;
	/** Where it is seen then. */
	readonly direction: Direction;
	/** How far it is from the aim point then, degrees. */
	readonly miss: number;
	/** How far it stands above the skyline then, degrees. */
	readonly clearance: number;
	/** A star of like brightness near it that could be taken for it. */
	readonly neighbour: { readonly star: Star; readonly separation: number } | undefined;
	/** Smaller is better: see `rank`. */
	readonly cost: number;
}

export interface SearchOptions {
	/** Degrees from the aim point. */
	readonly reach: number;
	/** Faintest star to offer, V; the sky may allow less. */
	readonly faintest?: number;
	/** At most this many. */
	readonly most?: number;
	/** Whether bright stars in twilight count too, not only those in what the plan calls dark. */
	readonly twilight?: boolean;
}

/** Sun's altitude up to which the brightest stars can be found: faintestToAim at −4° is −0.7. */
const BRIGHTEST_SKY = -4;

/** Precession since J2000 moves declinations by at most this until 2040, degrees. */
const PRECESSION_MARGIN = 0.3;

export function guideStars(
	aim: Direction,
	tonight: Tonight,
	{ reach, faintest = 4.5, most = 40, twilight = false }: SearchOptions,
): readonly GuideStar[] {
	const { spot, onSite, cover, night } = tonight;
	if (aim.altitude < 0) return [];
	const dark = twilight
		? whereAtLeastZero((at) => BRIGHTEST_SKY - sunAltitude(spot, at), onSite, 1_200_000)
		: both([onSite], night.sunDark);
	const [first, last] = [dark[0], dark[dark.length - 1]];
	if (!first || !last) return [];
	const span: Interval = { from: first.from, until: last.until };
	const place = hourPlaceOf(spot, aim);
	const { declination, magnitude } = starColumns();
	const middle = place.declinationRad * DEG;
	const found: GuideStar[] = [];
	for (let index = firstAbove(declination, middle - reach - PRECESSION_MARGIN); index < declination.length; index++) {
		if ((declination[index] as number) > middle + reach + PRECESSION_MARGIN) break;
		if ((magnitude[index] as number) > faintest) continue;
		for (const pass of passes(index, place, reach, spot, span)) {
			const stretches = both([{ from: pass.best - pass.halfMs, until: pass.best + pass.halfMs }], dark);
			for (const { from, until } of stretches) {
				const guide = guideAt(index, Math.min(Math.max(pass.best, from), until), from, until);
				if (guide) found.push(guide);
			}
		}
	}
	found.sort((a, b) => a.cost - b.cost);
	return found.slice(0, most);

	function guideAt(index: number, best: EpochMs, from: EpochMs, until: EpochMs): GuideStar | undefined {
		const star = starAt(index);
		if (star.magnitude > faintestAt(tonight, best).limit) return undefined;
		const direction = apparentDirection({ type: "star", name: star.name, star }, spot, best);
		if (hiddenBy(cover, direction)) return undefined;
		const miss = missOf(aim, direction).total;
		if (miss > reach) return undefined;
		const clearance = direction.altitude - cover.skylineAt(direction.azimuth);
		const neighbour = likeNeighbour(index);
		const margin = Math.min(best - from, until - best) / 60_000;
		return {
			star,
			best,
			from,
			until,
			direction,
			miss,
			clearance,
			neighbour,
			cost: rank(star.magnitude, miss, reach, margin, clearance, neighbour?.separation),
		};
	}
}

/**
 * Order of merit, our own: what the miss leaves on the axis, brightness, minutes to either side, room above the
 * skyline, and whether a neighbour of like brightness may be taken for it. Common practice, no source.
 */
function rank(
	magnitude: number,
	miss: number,
	reach: number,
	margin: number,
	clearance: number,
	neighbour: number | undefined,
): number {
	return (
		miss / reach +
		0.35 * Math.max(0, magnitude) +
		(margin < 2 ? 0.5 * (1 - margin / 2) : 0) +
		(clearance < 3 ? 0.5 * (1 - clearance / 3) : 0) +
		(neighbour === undefined ? 0 : 0.4 * (1 - neighbour / NEIGHBOURHOOD))
	);
}

const NEIGHBOURHOOD = 2;
const LIKE_BRIGHTNESS = 0.7;

/** The nearest star within 2° that is as bright, or brighter, or fainter by no more than 0.7. */
function likeNeighbour(index: number): GuideStar["neighbour"] {
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

/** First index of a sorted column whose value is at least `value`. */
function firstAbove(column: Float64Array, value: number): number {
	let [low, high] = [0, column.length];
	while (low < high) {
		const middle = (low + high) >> 1;
		if ((column[middle] as number) < value) low = middle + 1;
		else high = middle;
	}
	return low;
}
