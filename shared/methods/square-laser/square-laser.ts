/**
 * `square-laser`: a laser laid across the tracker, at an angle θ to the axis (90° as a rule) and in its vertical
 * plane, is put on a guide star. The star's place then sets both tilt and bearing.
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

import { hourPlaceOf, type Pass, passes } from "../../alignment/passes.ts";
import { aimPoint, axisErrorOf, axisOfPointer, correctionWords } from "../../alignment/pointer.ts";
import type { MethodContent } from "../../cells/kinds.ts";
import type { EpochMs } from "../../earth/zone.ts";
import { degrees } from "../../notation/angle.ts";
import { bearingWithPoint } from "../../notation/bearing.ts";
import { SKY_RATE_ARCSEC } from "../../sky/frame.ts";
import { both, type Interval } from "../../sky/intervals.ts";
import { apparentDirection, findBody } from "../../sky/place.ts";
import { whereTrue } from "../../sky/roots.ts";
import { hiddenBy } from "../../sky/skyline.ts";
import { findStar } from "../../sky/stars.ts";
import { RAD } from "../../sky/vector.ts";
import {
	axisNumbers,
	canSight,
	type Method,
	type MethodPlan,
	type Miss,
	missOf,
	type Obstacle,
	type SetUp,
	type Step,
	sightObstacles,
	source,
	type Tonight,
} from "../method.ts";

export const DEFAULT_OFFSET = 90;
/** How far from the aim point a guide star may pass and still serve, degrees. Common practice, no source. */
export const DEFAULT_REACH = 1;
/** A source's cost at which the method is called hopeless near the equator: degrees of axis for one degree of roll. */
const HOPELESS_COST = 3;

/** A laser across the axis, put on a guide star. */
export const squareLaser: Method = {
	kind: "square-laser",
	needs: "a laser, a guide star near the aim point, a level",
	usesLaser: true,
	needsScales: false,
	about:
		"A laser lies across the tracker, square to the axis and in its vertical plane. Put on a star near the celestial equator as it crosses the meridian, it sets tilt and bearing at once, whatever hides the pole. It fails near the equator, where the aim point nears the zenith and a small roll turns the axis far.",
	plan,
};

function plan(method: MethodContent, tonight: Tonight): MethodPlan {
	const { spot, cover, onSite } = tonight;
	const offset = method.offset ?? DEFAULT_OFFSET;
	const reach = method.reach ?? DEFAULT_REACH;
	const aim = aimPoint(spot.latitude, offset);
	const obstacles: Obstacle[] = [];
	const cost = Math.abs(Math.cos(spot.latitude * RAD) / Math.cos(aim.altitude * RAD));
	if (aim.altitude < 0) obstacles.push({ type: "aim-below-horizon", altitude: aim.altitude });
	else {
		const by = hiddenBy(cover, aim);
		if (by) obstacles.push({ type: "aim-hidden", by, altitude: aim.altitude, skyline: cover.skylineAt(aim.azimuth) });
	}
	if (cost > HOPELESS_COST) obstacles.push({ type: "low-latitude", latitude: spot.latitude, cost });

	const name = method["guide-star"];
	const star = name === undefined ? undefined : findStar(name);
	let setUp: SetUp = { ...axisNumbers(tonight), aim };
	let at: EpochMs | undefined;
	let windows: readonly Interval[] = [];
	if (name === undefined) obstacles.push({ type: "needs-key", key: "guide-star" });
	else if (!star) obstacles.push({ type: "unknown-name", key: "guide-star", name });
	else {
		const body = findBody(`HIP ${star.hip}`) ?? { type: "star" as const, name: star.name, star };
		const named = { ...body, name: star.name };
		const near = passes(star.index, hourPlaceOf(spot, aim), reach, spot, onSite);
		windows = windowsOf(near, onSite).flatMap((window) =>
			whereTrue((t) => canSight(named, tonight, t), window, 120_000),
		);
		const wanted = method.at === undefined ? undefined : tonight.instant(method.at);
		at = wanted ?? bestOf(near, windows, onSite);
		if (at !== undefined) {
			const direction = apparentDirection(named, spot, at);
			const miss = missOf(aim, direction);
			const asAimed = axisErrorOf(spot.latitude, axisOfPointer(direction, offset, aim.side));
			setUp = {
				...setUp,
				marks: [{ name: star.name, body: named, direction, magnitude: star.magnitude }],
				miss,
				asAimed,
			};
			if (near.length === 0) obstacles.push(neverNear(star.name, star.index, tonight, aim, reach));
			else if (miss.total > reach) {
				obstacles.push({
					type: "not-there",
					name: star.name,
					miss: miss.total,
					reach,
					best: bestOf(near, windows, onSite),
				});
			}
			obstacles.push(...sightObstacles(star.name, named, direction, tonight, at));
		} else {
			obstacles.push(neverNear(star.name, star.index, tonight, aim, reach));
		}
		if (near.length > 0 && windows.length === 0) obstacles.push({ type: "no-window" });
	}

	const sideways = Math.cos(spot.latitude * RAD) / Math.cos(aim.altitude * RAD);
	const mark = setUp.marks?.[0];
	const cosDeclination = Math.sin(offset * RAD);
	const { tracker } = tonight;
	return {
		setUp,
		at,
		windows,
		obstacles,
		sources: [
			source("aim", method, tracker, [
				{ along: 1, across: 0 },
				{ along: 0, across: sideways },
			]),
			source("level", method, tracker, [{ along: 0, across: Math.sin(offset * RAD) / Math.cos(aim.altitude * RAD) }]),
			source("roll", method, tracker, [{ along: 0, across: Math.sin(offset * RAD) * sideways }]),
			source("squareness", method, tracker, [{ along: 1, across: 0 }]),
			source("clock", method, tracker, [{ along: 0, across: (SKY_RATE_ARCSEC / 3600) * cosDeclination * sideways }]),
			source("body", method, tracker, [
				{ along: 1, across: 0 },
				{ along: 0, across: sideways },
			]),
		],
		steps: steps(setUp, offset, mark?.name, setUp.miss),
	};
}

/** The parts of passes that lie in the stay. */
function windowsOf(near: readonly Pass[], onSite: Interval): readonly Interval[] {
	return both(
		near.map(({ best, halfMs }) => ({
			from: Math.max(best - halfMs, onSite.from),
			until: Math.min(best + halfMs, onSite.until),
		})),
		[onSite],
	);
}

/** The moment nearest the meridian that lies in a window, else in the stay, else any. */
function bestOf(near: readonly Pass[], windows: readonly Interval[], onSite: Interval): EpochMs | undefined {
	const within = (list: readonly Interval[]) =>
		near.find(({ best }) => list.some(({ from, until }) => from <= best && best <= until))?.best ??
		(list[0] && near[0] ? Math.min(Math.max(near[0].best, list[0].from), list[0].until) : undefined);
	return within(windows) ?? within(windowsOf(near, onSite));
}

function neverNear(
	name: string,
	index: number,
	{ spot, night }: Tonight,
	aim: { azimuth: number; altitude: number },
	reach: number,
): Obstacle {
	const [pass] = passes(index, hourPlaceOf(spot, aim), 180, spot, night.span);
	const near = passes(index, hourPlaceOf(spot, aim), reach, spot, night.span)[0];
	return near
		? { type: "not-there", name, miss: Number.NaN, reach, best: near.best }
		: { type: "never-near", name, least: pass?.least ?? 180, reach };
}

function steps(setUp: SetUp, offset: number, star: string | undefined, miss: Miss | undefined): readonly Step[] {
	const { aim } = setUp;
	if (!aim) return [];
	const square = offset === 90 ? "square to the axis" : `at ${degrees(offset)} to the axis`;
	return [
		{ say: "Level the head, sideways above all: a sideways tilt cannot be seen in the star." },
		{
			say: `Lay the laser across the tracker, ${square} and in its vertical plane: straight above the axis, not to one side.`,
		},
		{ say: "Tilt the axis roughly to the pole's altitude.", number: degrees(setUp.tilt) },
		{ say: "Turn the whole head until the laser points along the meridian.", number: bearingWithPoint(aim.azimuth) },
		{
			say: "Look and listen for aircraft, people, vehicles and animals. Light the laser only while none is near the beam.",
		},
		{
			say:
				star && miss
					? `At the clock time, by tilt and pan only, put the beam ${correctionWords(miss, star, degrees)}.`
					: "By tilt and pan only, put the beam on the guide star.",
			number: degrees(aim.altitude),
		},
		{ say: "Lock both, light the laser once more, and see that nothing has moved. Switch it off and put it away." },
	];
}
