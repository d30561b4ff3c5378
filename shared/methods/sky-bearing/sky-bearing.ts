/**
 * `sky-bearing`: tilt by scale, bearing by turning the pan from a star, a planet, the Moon, or the Sun's shadow.
 *
 * Pan offset = pole's bearing − body's bearing at the time. On the sky, across the meridian: one degree of turn or of
 * bearing counts cos φ; a sideways aim on the body cos φ / cos h (useless high up); a second of clock cos φ · dA/dt.
 */

import type { MethodContent } from "../../cells/kinds.ts";
import type { EpochMs } from "../../earth/zone.ts";
import { degrees, turnText } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import { type Interval, longest } from "../../sky/intervals.ts";
import { apparentDirection, findBody, type SkyBody } from "../../sky/place.ts";
import { whereTrue } from "../../sky/roots.ts";
import { halfTurn, RAD } from "../../sky/vector.ts";
import {
	axisNumbers,
	canSight,
	cosLatitude,
	levelEffect,
	type Method,
	type MethodPlan,
	type Obstacle,
	panTurn,
	type SetUp,
	type Step,
	sightObstacles,
	source,
	type Tonight,
} from "../method.ts";

/** Above this a bearing from the body is too coarse to use, degrees. Common practice, no source. */
export const HIGHEST_BODY = 65;
/** Below this haze, hills and refraction's whims spoil a sight, degrees. Common practice, no source. */
const LOWEST_BODY = 5;
/** A shadow is long enough to be laid along from here down, degrees. Common practice, no source. */
const HIGHEST_SUN = 60;
const STEP_MS = 300_000;

/** A bearing taken from a body of the sky. */
export const skyBearing: Method = {
	kind: "sky-bearing",
	needs: "a star, planet or the Moon in view (or the Sun's shadow), scales for tilt and pan",
	usesLaser: false,
	needsScales: true,
	about:
		"Sight a body whose bearing is known to the second, then turn the pan by the difference to the pole. Needs no compass and no pole. The lower the body, the better: high up a small slip of the sight is a large slip of bearing. The Sun is used by its shadow only, never sighted.",
	plan,
};

function plan(method: MethodContent, tonight: Tonight): MethodPlan {
	const { spot, onSite, tracker } = tonight;
	const obstacles: Obstacle[] = tracker.head === "ball" ? [{ type: "needs-scales" }] : [];
	let setUp: SetUp = axisNumbers(tonight);
	let at: EpochMs | undefined;
	let windows: readonly Interval[] = [];
	let altitude = 0;
	let [turnFromPole, perSecond] = [0, 15 / 3600];
	const name = method.body;
	const body = name === undefined ? undefined : findBody(name);
	if (name === undefined) obstacles.push({ type: "needs-key", key: "body" });
	else if (!body) obstacles.push({ type: "unknown-name", key: "body", name });
	else {
		const highest = body.type === "sun" ? HIGHEST_SUN : HIGHEST_BODY;
		const works = (t: EpochMs): boolean => {
			const { altitude: height } = apparentDirection(body, spot, t);
			return height >= LOWEST_BODY && height <= highest && canSight(body, tonight, t);
		};
		windows = obstacles.length > 0 ? [] : whereTrue(works, onSite, STEP_MS);
		const wanted = method.at === undefined ? undefined : tonight.instant(method.at);
		at = wanted ?? lowestIn(longest(windows), body, tonight);
		if (at === undefined) obstacles.push({ type: "no-window" });
		else {
			const direction = apparentDirection(body, spot, at);
			altitude = direction.altitude;
			turnFromPole = halfTurn(direction.azimuth - setUp.bearing);
			const later = apparentDirection(body, spot, at + 60_000);
			const rate = halfTurn(later.azimuth - direction.azimuth);
			perSecond = Math.abs(rate) / 60;
			setUp = {
				...setUp,
				marks: [
					{ name: body.name, body, direction, ...(body.type === "star" ? { magnitude: body.star.magnitude } : {}) },
				],
				panOffset: halfTurn(setUp.bearing - direction.azimuth),
				panRate: -rate,
			};
			obstacles.push(...sightObstacles(body.name, body, direction, tonight, at));
			if (direction.altitude > highest)
				obstacles.push({ type: "too-high", name: body.name, altitude: direction.altitude, limit: highest });
		}
	}
	const perDegree = cosLatitude(tonight);
	const perAim = perDegree / Math.max(0.02, Math.cos(altitude * RAD));
	return {
		setUp,
		at,
		windows,
		obstacles,
		sources: [
			source("tilt-scale", method, tracker, [{ along: 1, across: 0 }]),
			source("level", method, tracker, [{ along: 0, across: levelEffect(spot.latitude, altitude, turnFromPole) }]),
			source("pan-scale", method, tracker, [{ along: 0, across: perDegree }]),
			source("aim", method, tracker, [{ along: 0, across: perAim }], body?.type === "sun" ? 0.5 : undefined),
			source("clock", method, tracker, [{ along: 0, across: perDegree * perSecond }]),
			source("body", method, tracker, [{ along: 0, across: perAim }]),
		],
		steps: steps(body, setUp, tonight),
	};
}

/** The moment well inside a window at which the body is lowest, where a bearing costs least. */
function lowestIn(window: Interval | undefined, body: SkyBody, { spot }: Tonight): EpochMs | undefined {
	if (!window) return undefined;
	const moments = Array.from({ length: 9 }, (_, i) => window.from + ((window.until - window.from) * (i + 0.5)) / 9);
	const altitude = (t: EpochMs) => apparentDirection(body, spot, t).altitude;
	return moments.reduce((best, t) => (altitude(t) < altitude(best) ? t : best));
}

function steps(body: SkyBody | undefined, setUp: SetUp, tonight: Tonight): readonly Step[] {
	const mark = setUp.marks?.[0];
	if (!mark || setUp.panOffset === undefined) return [];
	const sun = body?.type === "sun";
	return [
		{ say: "Level the head." },
		{ say: "Set the tilt by the scale.", number: degrees(setUp.scaleTilt) },
		sun
			? {
					say: "Hang a plumb line before the head. At the clock time lay the axis along its shadow, pointing toward the Sun's bearing. Never look at the Sun, and never sight it through anything.",
					number: bearingText(mark.direction.azimuth),
				}
			: {
					say: `At the clock time turn the pan until ${mark.name} stands exactly over the axis's line.`,
					number: bearingText(mark.direction.azimuth),
				},
		{ say: "Read the pan scale, then turn the pan by this much.", number: turnText(panTurn(setUp.panOffset, tonight)) },
		{ say: "Lock. The axis now lies on the pole's bearing.", number: bearingText(setUp.bearing) },
	];
}
