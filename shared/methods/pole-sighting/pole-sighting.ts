/**
 * `pole-sighting`: the axis is put on the pole through a polar scope or sight hole, by the pole star's place beside it.
 *
 * The pole star stands at polar distance D, in a direction that turns once in a sidereal day: at hour angle H it is
 * D cos H above and −s D sin H to the right of the pole as one faces it (north: west of the pole is left), upright.
 * An inverting scope shows it half a turn on.
 */

import type { MethodContent } from "../../cells/kinds.ts";
import type { EpochMs } from "../../earth/zone.ts";
import { degrees } from "../../notation/angle.ts";
import { type Interval, longest } from "../../sky/intervals.ts";
import { apparentDirection, equatorialPlace, findBody, type SkyBody } from "../../sky/place.ts";
import { apparentAltitude } from "../../sky/refraction.ts";
import { whereTrue } from "../../sky/roots.ts";
import { hiddenBy } from "../../sky/skyline.ts";
import { DEG, RAD } from "../../sky/vector.ts";
import {
	axisNumbers,
	canSight,
	type Method,
	type MethodPlan,
	missOf,
	type Obstacle,
	type PoleStarPlace,
	type SetUp,
	sightObstacles,
	source,
	type Tonight,
} from "../method.ts";

const STEP_MS = 600_000;

export const poleSighting: Method = {
	kind: "pole-sighting",
	needs: "a clear view of the pole, a polar scope or sight hole",
	usesLaser: false,
	needsScales: false,
	about:
		"The usual way where the pole can be seen: the pole star is put where it stands beside the pole at that minute. The finest of the methods, and the one that the best foregrounds hide.",
	plan,
};

/** Where the pole is seen: its altitude with refraction. */
export function seenPole({ spot }: Pick<Tonight, "spot">): { azimuth: number; altitude: number } {
	return { azimuth: spot.latitude >= 0 ? 0 : 180, altitude: apparentAltitude(Math.abs(spot.latitude), spot.air) };
}

function plan(method: MethodContent, tonight: Tonight): MethodPlan {
	const { spot, cover, onSite, tracker } = tonight;
	const obstacles: Obstacle[] = [];
	const name = method.star ?? (spot.latitude >= 0 ? "Polaris" : "sigma Octantis");
	const body = findBody(name);
	const pole = seenPole(tonight);
	const by = hiddenBy(cover, pole);
	if (by) obstacles.push({ type: "pole-hidden", by, skyline: cover.skylineAt(pole.azimuth) });
	let setUp: SetUp = axisNumbers(tonight);
	let at: EpochMs | undefined;
	let windows: readonly Interval[] = [];
	let distance = 0;
	if (!body) obstacles.push({ type: "unknown-name", key: "star", name });
	else {
		windows = by ? [] : whereTrue((t) => canSightThroughScope(body, tonight, t), onSite, STEP_MS);
		at = method.at === undefined ? (longest(windows)?.from ?? onSite.from) : tonight.instant(method.at);
		const direction = apparentDirection(body, spot, at);
		const poleStar = poleStarPlace(body, tonight, at);
		distance = poleStar.distance;
		setUp = {
			...setUp,
			marks: [
				{ name: body.name, body, direction, ...(body.type === "star" ? { magnitude: body.star.magnitude } : {}) },
			],
			poleStar,
		};
		if (!by)
			obstacles.push(
				...sightObstacles(body.name, body, direction, tonight, at).filter((obstacle) => obstacle.type !== "too-faint"),
			);
		if (windows.length === 0 && !by) obstacles.push({ type: "no-window" });
	}
	const bothWays = [
		{ along: 1, across: 0 },
		{ along: 0, across: 1 },
	];
	// The pole star turns about the pole: a late clock or a scope rolled by an angle puts it D · angle to one side.
	const turned = tangential(setUp.poleStar, distance);
	return {
		setUp,
		at,
		windows,
		obstacles,
		sources: [
			source("aim", method, tracker, bothWays, 3 / 60),
			source("squareness", method, tracker, bothWays, 5 / 60),
			source("level", method, tracker, [{ along: turned.along * RAD, across: turned.across * RAD }]),
			source("clock", method, tracker, [
				{ along: turned.along * (15.041 / 3600) * RAD, across: turned.across * (15.041 / 3600) * RAD },
			]),
			source("body", method, tracker, bothWays),
		],
		steps: steps(setUp),
	};
}

/** Through a scope fainter stars can be seen than by eye: only twilight and cover count. */
function canSightThroughScope(body: SkyBody, tonight: Tonight, at: EpochMs): boolean {
	if (body.type === "star" && body.star.magnitude > 4.5) {
		const bright = { ...body, star: { ...body.star, magnitude: 4.4 } };
		return canSight(bright, tonight, at);
	}
	return canSight(body, tonight, at);
}

/** The pole star beside the pole, as it is seen. */
export function poleStarPlace(body: SkyBody, tonight: Tonight, at: EpochMs): PoleStarPlace {
	const { spot } = tonight;
	const { up, right, total } = missOf(seenPole(tonight), apparentDirection(body, spot, at));
	const hours = ((Math.atan2(right, up) * DEG + 360) % 360) / 30;
	return { distance: total, up, right, clockUpright: hours, clockInverted: (hours + 6) % 12 };
}

function tangential(place: PoleStarPlace | undefined, distance: number): { along: number; across: number } {
	if (!place || distance === 0) return { along: 0, across: 0 };
	return { along: place.right, across: place.up };
}

/** `1:25` for 1.42 hours of a clock face. */
export function clockFace(hours: number): string {
	const minutes = Math.round(hours * 60) % 720;
	return `${Math.floor(minutes / 60) || 12}:${String(minutes % 60).padStart(2, "0")}`;
}

function steps(setUp: SetUp) {
	const { poleStar, marks } = setUp;
	if (!poleStar || !marks?.[0]) return [];
	const { name } = marks[0];
	return [
		{ say: "Set the tilt roughly by the scale and turn the axis to the pole's bearing.", number: degrees(setUp.tilt) },
		{
			say: `Find ${name} in the scope. It stands this far from the pole.`,
			number: `${(poleStar.distance * 60).toFixed(1)}′`,
		},
		{
			say: `Put it at this hour of the clock face around the pole, seen upright (through an inverting scope: ${clockFace(poleStar.clockInverted)}).`,
			number: clockFace(poleStar.clockUpright),
		},
		{ say: "Lock, and look once more: locking moves the axis." },
	];
}

/** Polar distance of date of a pole star, degrees, without refraction: for tests and tables. */
export function polarDistance(body: SkyBody, tonight: Pick<Tonight, "spot">, at: EpochMs): number {
	return 90 - Math.abs(equatorialPlace(body, tonight.spot, at).declination);
}
