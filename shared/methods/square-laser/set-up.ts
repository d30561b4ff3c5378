/**
 * A laser laid across the tracker, at an angle θ to the axis (90° as a rule) and in its vertical plane, is put on a
 * guide star. The star's place then sets both tilt and bearing.
 *
 * With A the aim point's altitude, one degree of each error moves the axis by (along; across), degrees on the sky:
 * - aim up/down: 1 along (the laser too high leaves the axis too low, one to one);
 * - aim left/right: cos φ / cos A across (1/tan φ at θ = 90°);
 * - the angle θ itself (squareness): 1 along;
 * - the head tilted sideways by b, re-aimed by panning: b sin θ / cos A across (1/sin φ at θ = 90°);
 * - the laser rolled about the axis by r, re-aimed: r sin θ cos φ / cos A across (1/tan φ at θ = 90°).
 * Derivation: the tilt moves the axis sideways by b sin φ and the laser by b sin A; panning by ψ brings the laser back
 * when ψ cos A = b sin A, which moves the axis on by ψ cos φ: b (sin φ + cos φ tan A) = b sin(φ + A) / cos A.
 */
import type { AxisVector } from "../../alignment/axis-error.ts";
import { type Pass, passes } from "../../alignment/passes.ts";
import {
	aimPoint,
	axisErrorOf,
	axisOfPointer,
	beside,
	DEFAULT_OFFSET,
	DEFAULT_REACH,
	type Miss,
	missFacing,
	missOf,
} from "../../alignment/pointer.ts";
import { type EpochMs, minuteOf } from "../../earth/zone.ts";
import { degrees } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import { optional, starName } from "../../notation/shape.ts";
import { hiddenBy } from "../../sky/cover.ts";
import { SKY_RATE_ARCSEC } from "../../sky/frame.ts";
import type { Direction } from "../../sky/horizontal.ts";
import { both, contains, type Interval } from "../../sky/intervals.ts";
import { apparentDirection, findBody, hourPlaceOf } from "../../sky/place.ts";
import { whereTrue } from "../../sky/roots.ts";
import { findStar, type Star } from "../../sky/stars.ts";
import { RAD } from "../../sky/vector.ts";
import { inTime, minutesTaken } from "../before-frames.ts";
import { type CommonContent, type ContentOf, POINTER_KEYS } from "../common-keys.ts";
import type { Mark, Obstacle, SetUp } from "../method.ts";
import { minuteNear, onMinutes } from "../minutes.ts";
import { aimSource, isSight, levelSource, POINTED_WITH_KEYS } from "../pointed-with.ts";
import { canSight, markOf, sightObstacles } from "../sight.ts";
import { source } from "../source.ts";
import { axisNumbers, type Tonight } from "../tonight.ts";
import { words } from "./words.ts";

/** A source's cost at which the method is called hopeless near the equator: degrees of axis for one degree of roll. */
const HOPELESS_COST = 3;

/** Its own keys. */
export const keys = {
	"guide-star": optional(starName(), {
		doc: "the star the laser is put on (not the star an autoguider follows).",
		example: "eta Virginis",
	}),
	...POINTER_KEYS,
	...POINTED_WITH_KEYS,
};

export type Content = ContentOf<typeof keys> & CommonContent;

export interface LaserSetUp extends SetUp {
	/** Angle between axis and laser, degrees. */
	readonly offset: number;
	/** Where the laser must point, apparent. */
	readonly aim: Direction;
	/** Where the star stands beside the aim point, right and up as one faces the star. */
	readonly miss: Miss | undefined;
	/** Axis error if the laser were put on the star as it is, degrees. */
	readonly asAimed: AxisVector | undefined;
	/** What one degree of the beam to the side does to the axis, degrees across the meridian. */
	readonly sideways: number;
}

/** What it takes. Common practice, no source. */
export const MINUTES = 10;

/** Everything about it tonight. */
export function setUp(content: Content, tonight: Tonight): LaserSetUp {
	const { spot, onSite, zone } = tonight;
	const offset = content.offset ?? DEFAULT_OFFSET;
	const reach = content.reach ?? DEFAULT_REACH;
	const numbers = axisNumbers(tonight);
	const aim = aimPoint(spot.latitude, offset);
	const obstacles = aimObstacles(aim, tonight);
	const name = content["guide-star"];
	const star = name === undefined ? undefined : findStar(name);
	let at: EpochMs | undefined;
	let windows: readonly Interval[] = [];
	let mark: Mark | undefined;
	let miss: Miss | undefined;
	if (name === undefined) obstacles.push({ type: "needs-key", key: "guide-star" });
	else if (!star) obstacles.push({ type: "unknown-name", key: "guide-star", name });
	else {
		const body = findBody(`HIP ${star.hip}`) ?? { type: "star" as const, name: star.name, star };
		const named = { ...body, name: star.name };
		const near = passes(star.index, hourPlaceOf(spot, aim), reach, spot, onSite);
		const works = (t: EpochMs): boolean =>
			missOf(aim, apparentDirection(named, spot, t)).total <= reach && canSight(named, tonight, t);
		const seen = windowsOf(near, onSite).flatMap((window) =>
			whereTrue((t) => canSight(named, tonight, t), window, 120_000),
		);
		windows = onMinutes(seen, works, zone);
		const wanted = content.at === undefined ? undefined : tonight.instant(content.at);
		const wish = bestOf(near, inTime(windows, tonight, minutesTaken(content, MINUTES)), onSite);
		const best = wish && (minuteNear(wish, windows, works, zone) ?? minuteOf(zone, wish));
		at = wanted ?? best;
		if (at === undefined) obstacles.push(neverNear(star, tonight, aim, reach));
		else {
			mark = { ...markOf(named, "guide-star", tonight, at), magnitude: star.magnitude };
			miss = missFacing(aim, mark.direction);
			if (near.length === 0) obstacles.push(neverNear(star, tonight, aim, reach));
			else if (miss.total > reach) {
				const { key, direction } = mark;
				obstacles.push({ type: "not-there", name: star.name, key, miss: miss.total, reach, best, aim, direction });
			}
			obstacles.push(...sightObstacles(mark, named, mark.direction, tonight, at));
		}
		if (near.length > 0 && windows.length === 0) obstacles.push({ type: "no-window" });
	}
	const sideways = Math.cos(spot.latitude * RAD) / Math.cos(aim.altitude * RAD);
	const sinOffset = Math.sin(offset * RAD);
	const bothWays = [
		{ along: 1, across: 0 },
		{ along: 0, across: sideways },
	];
	return {
		...numbers,
		offset,
		aim,
		miss,
		markMiss: miss?.total,
		sideways,
		...(mark && miss
			? { bias: leftBy(toldBeside(miss, sideways), mark.direction, spot.latitude, offset, aim.side) }
			: {}),
		asAimed: mark && axisErrorOf(spot.latitude, axisOfPointer(mark.direction, offset, aim.side)),
		at,
		windows,
		marks: mark ? [mark] : [],
		obstacles,
		pictures: {
			pointer: {
				offset,
				altitude: aim.altitude,
				overZenith: numbers.tilt + offset > 90,
				sight: isSight(content),
				star: mark?.name,
			},
			aim: { azimuth: aim.azimuth, altitude: aim.altitude, reach },
		},
		sources: [
			aimSource(content, tonight, bothWays),
			levelSource(content, tonight, [{ along: 0, across: sinOffset / Math.cos(aim.altitude * RAD) }]),
			source("roll", content, tonight, [{ along: 0, across: sinOffset * sideways }]),
			source("squareness", content, tonight, [{ along: 1, across: 0 }]),
			source("clock", content, tonight, [{ along: 0, across: (SKY_RATE_ARCSEC / 3600) * sinOffset * sideways }]),
			source("body", content, tonight, bothWays),
		],
	};
}

/** What the axis may be off for a simpler sentence, and the smallest angle that two places tell, degrees. */
const NOT_WORTH_SAYING = 0.05;
const SMALLEST = 0.005;

/** Where the beam belongs beside the star as the steps tell it, degrees right and up as one faces it. */
export interface ToldPlace {
	readonly right: number;
	readonly up: number;
}

/** The place of a beam as it is told, to a hundredth of a degree: nothing where it is not worth saying. */
export function toldBeside(miss: Miss, sideways: number): ToldPlace {
	const isSideways = Math.abs(miss.right) * sideways >= NOT_WORTH_SAYING && Math.abs(miss.right) >= SMALLEST;
	const isUpright = Math.abs(miss.up) >= NOT_WORTH_SAYING;
	return {
		right: isSideways ? -Math.round(miss.right * 100) / 100 : 0,
		up: isUpright ? -Math.round(miss.up * 100) / 100 : 0,
	};
}

/** The axis that follows from a beam put where it is told: what the rounding leaves. */
const leftBy = (
	{ right, up }: ToldPlace,
	star: Direction,
	latitude: number,
	offset: number,
	side: "equator" | "pole",
): AxisVector => axisErrorOf(latitude, axisOfPointer(beside(star, right, up), offset, side));

/** What is wrong with the aim point itself, whatever the star. */
export function aimObstacles(aim: Direction, { spot, cover }: Tonight): Obstacle[] {
	const obstacles: Obstacle[] = [];
	const { altitude } = aim;
	const cost = Math.abs(Math.cos(spot.latitude * RAD) / Math.cos(altitude * RAD));
	if (altitude < 0) obstacles.push({ type: "aim-below-horizon", altitude });
	else {
		const by = hiddenBy(cover, aim);
		if (by) obstacles.push({ type: "aim-hidden", by, altitude, skyline: cover.skylineAt(aim.azimuth) });
	}
	if (cost > HOPELESS_COST) obstacles.push({ type: "low-latitude", latitude: spot.latitude, cost });
	return obstacles;
}

/** The parts of passes that lie in the time on site. */
function windowsOf(near: readonly Pass[], onSite: Interval): readonly Interval[] {
	return both(
		near.map(({ best, halfMs }) => ({
			from: Math.max(best - halfMs, onSite.from),
			until: Math.min(best + halfMs, onSite.until),
		})),
		[onSite],
	);
}

/** The moment nearest the meridian that lies in a window, else in the time on site, else any. */
function bestOf(near: readonly Pass[], windows: readonly Interval[], onSite: Interval): EpochMs | undefined {
	const within = (list: readonly Interval[]) =>
		near.find(({ best }) => contains(list, best))?.best ??
		(list[0] && near[0] ? Math.min(Math.max(near[0].best, list[0].from), list[0].until) : undefined);
	return within(windows) ?? within(windowsOf(near, onSite));
}

/** It passes outside the time on site, or nowhere near on any night. */
function neverNear({ name, index }: Star, { spot, night, zone }: Tonight, aim: Direction, reach: number): Obstacle {
	const key = "guide-star";
	const place = hourPlaceOf(spot, aim);
	const near = passes(index, place, reach, spot, night.span)[0];
	if (near) {
		const best = minuteOf(zone, near.best);
		return { type: "not-there", name, key, miss: undefined, reach, best, aim, direction: undefined };
	}
	const least = passes(index, place, 180, spot, night.span)[0]?.least ?? 180;
	const to = words.aimPoint({ altitude: degrees(aim.altitude), bearing: bearingText(aim.azimuth) });
	return { type: "never-near", name, key, least, reach, to };
}
