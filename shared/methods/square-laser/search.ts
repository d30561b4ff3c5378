/**
 * The search for guide stars: every star that passes within reach of the aim point tonight, in the dark, in view and
 * while on site, best first. Passes are solved from hour angles, not stepped.
 */
import { passes } from "../../alignment/passes.ts";
import { aimPoint, DEFAULT_OFFSET, DEFAULT_REACH, missOf } from "../../alignment/pointer.ts";
import { type EpochMs, minuteOf } from "../../earth/zone.ts";
import { degrees } from "../../notation/angle.ts";
import { bearingWithPoint } from "../../notation/bearing.ts";
import { nightClock } from "../../notation/night-clock.ts";
import { hiddenBy } from "../../sky/cover.ts";
import { seenMagnitude } from "../../sky/extinction.ts";
import type { Direction } from "../../sky/horizontal.ts";
import { both, type Interval } from "../../sky/intervals.ts";
import { sunAltitude } from "../../sky/night.ts";
import { apparentDirection, hourPlaceOf } from "../../sky/place.ts";
import { whereAtLeastZero } from "../../sky/roots.ts";
import { type Star, starAt, starColumns } from "../../sky/stars.ts";
import { DEG } from "../../sky/vector.ts";
import { lateLast, minutesTaken } from "../before-frames.ts";
import type { Candidate, Search } from "../method.ts";
import { likeNeighbour, NEIGHBOURHOOD, type Neighbour } from "../neighbour.ts";
import { faintestAt } from "../sight.ts";
import type { Tonight } from "../tonight.ts";
import type { Content } from "./set-up.ts";
import { aimObstacles, MINUTES } from "./set-up.ts";
import { words } from "./words.ts";

export interface GuideStar extends Candidate {
	readonly star: Star;
	/** When it is nearest the aim point, while on site and in the dark. */
	readonly at: EpochMs;
	/** While it is within reach, on site and in the dark. */
	readonly from: EpochMs;
	readonly until: EpochMs;
	/** Where it is seen then. */
	readonly direction: Direction;
	/** How far it is from the aim point then, degrees. */
	readonly miss: number;
	/** How far it stands above the skyline then, degrees. */
	readonly clearance: number;
	/** A star of like brightness near it that could be taken for it. */
	readonly neighbour: Neighbour | undefined;
	/** Smaller is better: see `rank`. */
	readonly cost: number;
}

interface GuideStarOptions {
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

/** Stars that pass an aim point tonight, best first. */
export function guideStars(
	aim: Direction,
	tonight: Tonight,
	{ reach, faintest = 4.5, most = 40, twilight = false }: GuideStarOptions,
): readonly GuideStar[] {
	const { spot, onSite, cover, night, zone } = tonight;
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
				const [first, last] = [minuteOf(zone, from, Math.ceil), minuteOf(zone, until, Math.floor)];
				if (first > last) continue;
				const best = Math.min(Math.max(pass.best, from), until);
				const guide = guideAt(index, Math.min(Math.max(minuteOf(zone, best), first), last), { from, until, best });
				if (guide) found.push({ ...guide, from: first, until: last });
			}
		}
	}
	found.sort((a, b) => a.cost - b.cost);
	return found.slice(0, most);

	/** `pass`: as it is, between minutes: which star is better must not depend on how its minutes fall. */
	function guideAt(index: number, best: EpochMs, pass: Interval & { best: EpochMs }): GuideStar | undefined {
		const star = starAt(index);
		const direction = apparentDirection({ type: "star", name: star.name, star }, spot, best);
		const seen = seenMagnitude(star.magnitude, tonight.extinction, direction.altitude);
		if (seen > faintestAt(tonight, best)) return undefined;
		if (hiddenBy(cover, direction)) return undefined;
		const miss = missOf(aim, direction).total;
		if (miss > reach) return undefined;
		const clearance = direction.altitude - cover.skylineAt(direction.azimuth);
		const neighbour = likeNeighbour(index);
		const margin = Math.min(pass.best - pass.from, pass.until - pass.best) / 60_000;
		const least = missOf(aim, apparentDirection({ type: "star", name: star.name, star }, spot, pass.best)).total;
		return {
			star,
			name: star.name,
			keys: { "guide-star": star.name },
			at: best,
			from: pass.from,
			until: pass.until,
			direction,
			miss,
			clearance,
			neighbour,
			cost: rank(seen, least, reach, margin, clearance, neighbour?.separation),
		};
	}
}

/**
 * Order of merit, our own: what the miss leaves on the axis, brightness as seen, minutes to either side, room above the
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

/** Where a star has to pass for a cell. */
export const aimOf = ({ offset }: Content, { spot }: Tonight) => aimPoint(spot.latitude, offset ?? DEFAULT_OFFSET);

/** The search as the rest of the house asks it. */
export const search: Search<Content, GuideStar> = {
	key: "guide-star",
	momentary: true,
	timed: true,
	fills: true,
	/** Those in the dark; unless it is said whether twilight counts, bright ones in twilight when there are none. */
	find(content, tonight, { most = 40, reach = content.reach ?? DEFAULT_REACH, faintest = 4.5, twilight } = {}) {
		if (aimObstacles(aimOf(content, tonight), tonight).length > 0) return [];
		const { offset = DEFAULT_OFFSET } = content;
		const stars = (inTwilight: boolean): readonly GuideStar[] =>
			tonight.remember(`guide stars ${offset} ${reach} ${faintest} ${inTwilight}`, () =>
				guideStars(aimOf(content, tonight), tonight, { reach, faintest, twilight: inTwilight }),
			);
		const dark = stars(twilight ?? false);
		const found = dark.length > 0 || twilight !== undefined ? dark : stars(true);
		return lateLast(found, tonight, minutesTaken(content, MINUTES)).slice(0, most);
	},
	detail: ({ at, direction, miss, star, neighbour }, night) =>
		words.detail({
			at: nightClock(night, at),
			altitude: degrees(direction.altitude),
			miss: degrees(miss, 2),
			magnitude: star.magnitude.toFixed(1),
			mind: neighbour ? words.mind({ star: neighbour.star.name, angle: degrees(neighbour.separation) }) : "",
		}),
	choice: ({ direction, miss, star }) =>
		words.choice({
			altitude: degrees(direction.altitude),
			bearing: bearingWithPoint(direction.azimuth),
			miss: degrees(miss, 2),
			magnitude: star.magnitude.toFixed(1),
		}),
};
