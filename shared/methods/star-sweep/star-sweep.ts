/**
 * `star-sweep`: a pointer fixed on the turning plate, at an angle θ to the axis. Turned from one star to another of
 * declination 90° − θ it must meet both; each miss says how the axis is off.
 *
 * A star at hour angle H lies, as seen from the pole, in direction n = (cos H, −s sin H) in (along, across), s = ±1
 * north or south. An axis error e brings it e · n nearer to the axis, so that the pointer passes it at a distance
 * d = D − θ − e · n (D: polar distance, d positive when the star is outside the pointer's circle). Two stars give
 * two equations; the answer is amplified by 1 / |sin(H₂ − H₁)|. A clock error turns both and changes nothing; a
 * pointer that is not at θ shows in both misses alike.
 */

import { type AxisVector, hemisphere } from "../../alignment/axis-error.ts";
import { hourPlaceOf } from "../../alignment/passes.ts";
import type { MethodContent } from "../../cells/kinds.ts";
import type { EpochMs } from "../../earth/zone.ts";
import { degrees } from "../../notation/angle.ts";
import { bearingWithPoint } from "../../notation/bearing.ts";
import { type Interval, longest } from "../../sky/intervals.ts";
import { apparentDirection, findBody, type SkyBody } from "../../sky/place.ts";
import { whereTrue } from "../../sky/roots.ts";
import { DEG, halfTurn } from "../../sky/vector.ts";
import {
	axisNumbers,
	canSight,
	type Mark,
	type Method,
	type MethodPlan,
	type Obstacle,
	type SetUp,
	type Step,
	sightObstacles,
	source,
	type Tonight,
} from "../method.ts";
import { DEFAULT_OFFSET, DEFAULT_REACH } from "../square-laser/square-laser.ts";

/** Two stars nearer than this in hour angle (or this near to opposite) fix the axis too badly, degrees. Common practice, no source. */
export const CLOSEST_PAIR = 30;
const STEP_MS = 600_000;

/** Two stars met by a pointer that turns with the axis. */
export const starSweep: Method = {
	kind: "star-sweep",
	needs: "a pointer square to the axis on the turning plate, two stars near the celestial equator, far apart",
	usesLaser: true,
	needsScales: false,
	about:
		"A pointer fixed square to the axis on the turning plate sweeps along the celestial equator when the axis is right. Two equatorial stars far apart in hour angle, met one after the other, fix tilt and bearing together; no level and no clock are needed.",
	plan,
};

/** Direction from the pole toward a star at an hour angle (degrees), in (along, across). */
export function fromPole(hourAngle: number, latitude: number): AxisVector {
	return { along: Math.cos(hourAngle / DEG), across: -hemisphere(latitude) * Math.sin(hourAngle / DEG) };
}

/** Axis errors that follow from one degree of miss at the first and at the second star; undefined for stars in line with the pole. */
export function solvePair(first: AxisVector, second: AxisVector): readonly [AxisVector, AxisVector] | undefined {
	const determinant = first.along * second.across - first.across * second.along;
	if (Math.abs(determinant) < 0.02) return undefined;
	return [
		{ along: second.across / determinant, across: -second.along / determinant },
		{ along: -first.across / determinant, across: first.along / determinant },
	];
}

function plan(method: MethodContent, tonight: Tonight): MethodPlan {
	const { spot, onSite, tracker } = tonight;
	const offset = method.offset ?? DEFAULT_OFFSET;
	const reach = method.reach ?? DEFAULT_REACH;
	const obstacles: Obstacle[] = [];
	let setUp: SetUp = axisNumbers(tonight);
	let at: EpochMs | undefined;
	let windows: readonly Interval[] = [];
	let effects: readonly [AxisVector, AxisVector] | undefined;
	const names = method.stars ?? [];
	const bodies = names.map((name) => findBody(name));
	if (names.length < 2) obstacles.push({ type: "needs-key", key: "stars" });
	bodies.forEach((body, i) => {
		if (!body) obstacles.push({ type: "unknown-name", key: `stars.${i}`, name: names[i] as string });
	});
	const [first, second] = bodies;
	if (first && second) {
		windows = whereTrue((t) => canSight(first, tonight, t) && canSight(second, tonight, t), onSite, STEP_MS);
		const window = longest(windows);
		at = method.at === undefined ? window && (window.from + window.until) / 2 : tonight.instant(method.at);
		if (at === undefined) obstacles.push({ type: "no-window" });
		else {
			const stars = [first, second].map((body) => seen(body, tonight, at as EpochMs));
			for (const { mark, polarDistance } of stars) {
				const miss = polarDistance - offset;
				if (Math.abs(miss) > reach)
					obstacles.push({ type: "never-near", name: mark.name, least: Math.abs(miss), reach });
				obstacles.push(...sightObstacles(mark.name, mark.body as SkyBody, mark.direction, tonight, at));
			}
			const [one, other] = stars as [ReturnType<typeof seen>, ReturnType<typeof seen>];
			const spread = Math.abs(halfTurn(other.hourAngle - one.hourAngle));
			effects = solvePair(fromPole(one.hourAngle, spot.latitude), fromPole(other.hourAngle, spot.latitude));
			if (spread < CLOSEST_PAIR || spread > 180 - CLOSEST_PAIR) obstacles.push({ type: "pair-too-close", spread });
			const miss = one.polarDistance - offset;
			setUp = {
				...setUp,
				marks: stars.map(({ mark }) => mark),
				spread,
				miss: { total: Math.abs(miss), right: 0, up: miss },
				...(effects ? { perMiss: effects } : {}),
				...(effects ? { asAimed: combine(effects, miss, other.polarDistance - offset) } : {}),
			};
		}
	}
	const [perFirst, perSecond] = effects ?? [
		{ along: 1, across: 0 },
		{ along: 0, across: 1 },
	];
	const common = combine([perFirst, perSecond], -1, -1);
	return {
		setUp,
		at,
		windows,
		obstacles,
		sources: [
			source("aim", method, tracker, [perFirst, perSecond]),
			source("squareness", method, tracker, [common]),
			source("body", method, tracker, [perFirst, perSecond]),
		],
		steps: steps(setUp, offset),
	};
}

function combine([first, second]: readonly [AxisVector, AxisVector], a: number, b: number): AxisVector {
	return { along: a * first.along + b * second.along, across: a * first.across + b * second.across };
}

function seen(body: SkyBody, tonight: Tonight, at: EpochMs): { mark: Mark; hourAngle: number; polarDistance: number } {
	const { spot } = tonight;
	// As it is seen: refraction lifts a star, and the pointer is put on what is seen.
	const direction = apparentDirection(body, spot, at);
	const place = hourPlaceOf({ ...spot, air: { pressure: 0, temperature: 0 } }, direction);
	return {
		mark: { name: body.name, body, direction, ...(body.type === "star" ? { magnitude: body.star.magnitude } : {}) },
		hourAngle: place.hourAngleRad * DEG,
		polarDistance: 90 - hemisphere(spot.latitude) * place.declinationRad * DEG,
	};
}

function steps({ tilt, bearing, marks, spread, perMiss }: SetUp, offset: number): readonly Step[] {
	const [first, second] = marks ?? [];
	if (!first || !second) return [];
	const effect = (i: 0 | 1) => {
		const e = perMiss?.[i];
		if (!e) return "";
		const tiltWords = `${degrees(Math.abs(e.along), 2)} of tilt ${e.along >= 0 ? "too low" : "too high"}`;
		const panWords = `${degrees(Math.abs(e.across), 2)} across, ${e.across >= 0 ? "counter-clockwise" : "clockwise"} of the pole`;
		return `One degree by which the pointer passes inside (on the pole's side of) it means ${tiltWords} and ${panWords}.`;
	};
	return [
		{ say: `Fix the pointer on the turning plate ${offset === 90 ? "square" : `at ${degrees(offset)}`} to the axis.` },
		{ say: "Set tilt and bearing roughly.", number: `${degrees(tilt)}, ${bearingWithPoint(bearing)}` },
		{
			say: `Turn the plate to ${first.name}. ${effect(0)}`,
			number: `${bearingWithPoint(first.direction.azimuth)}, ${degrees(first.direction.altitude)} high`,
		},
		{
			say: `Turn the plate to ${second.name}, ${degrees(spread ?? 0, 0)} of turn away. ${effect(1)}`,
			number: `${bearingWithPoint(second.direction.azimuth)}, ${degrees(second.direction.altitude)} high`,
		},
		{ say: "Move tilt and pan until the pointer meets both stars on one turn of the plate." },
		{ say: "Before any light is switched on, look and listen for aircraft, people, vehicles and animals." },
	];
}
