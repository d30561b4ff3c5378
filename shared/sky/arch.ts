/**
 * The Milky Way's arch: the half of the galactic equator above the horizon. A great circle's top stands at 90° less the
 * altitude of its pole, opposite to it, and it meets a flat horizon 90° either side. Directions are degrees, as seen.
 */
import type { EpochMs } from "../earth/zone.ts";
import { type Cover, coveredBy } from "./cover.ts";
import { frameNear, siderealRad } from "./frame.ts";
import { fromGalactic } from "./galactic.ts";
import { type Direction, toDirection, toLocal } from "./horizontal.ts";
import type { Spot } from "./place.ts";
import { apparentAltitude } from "./refraction.ts";
import { fixedVector } from "./stars.ts";
import { cross, plus, RAD, separation, times, unit, type Vector } from "./vector.ts";

export interface Arch {
	readonly top: Direction;
	/** Where it meets the skyline, as one faces its top; undefined while its top is below the skyline. */
	readonly left: Direction | undefined;
	readonly right: Direction | undefined;
	/**
	 * Whether nothing but the skyline hides any of it from foot to foot, it does not come up again behind a foot, and both
	 * feet are `FEET_APART` along it from its top: where a wall ends it beside the top, there is no arch to be seen.
	 */
	readonly whole: boolean;
	/** From its left foot over its top to its right one. */
	readonly along: readonly Direction[];
	/** The same with both edges of the band, `HALF_BAND` off; what of them is below the skyline is left out. */
	readonly band: readonly Direction[];
}

const GALACTIC_POLE = fromGalactic(0, 90);
/** Half the width of the band that a picture of the arch holds, degrees: common practice, no source. */
export const HALF_BAND = 6;
/** From the top to each foot of an arch that is seen as one, degrees along it: half of the way. Common practice, no source. */
export const FEET_APART = 45;
/** How far apart places on it are looked at, degrees. */
const STEP = 1;

/** The arch as it is at an instant. */
export function archAt(spot: Spot, cover: Cover, at: EpochMs): Arch {
	const pole = galacticPole(spot, at);
	const top = topOf(pole);
	// Level, and to the right as one faces the top.
	const side = unit(cross(top, [0, 0, 1]));
	const place = (angle: number, off = 0): Direction => {
		const on = plus(times(top, Math.cos(angle * RAD)), times(side, Math.sin(angle * RAD)));
		const { azimuth, altitude } = toDirection(
			off === 0 ? on : plus(times(on, Math.cos(off * RAD)), times(pole, Math.sin(off * RAD))),
		);
		return { azimuth, altitude: apparentAltitude(altitude, spot.air) };
	};
	const isUp = ({ azimuth, altitude }: Direction): boolean => altitude > cover.skylineAt(azimuth);
	const isOver = (angle: number): boolean => isUp(place(angle));
	const seenTop = place(0);
	if (!isOver(0)) return { top: seenTop, left: undefined, right: undefined, whole: false, along: [], band: [] };
	const [left, right] = [footOf(isOver, -1), footOf(isOver, 1)];
	const count = Math.max(2, Math.ceil((right - left) / STEP));
	const angles = Array.from({ length: count + 1 }, (_, i) => left + ((right - left) * i) / count);
	const along = angles.map((angle) => place(angle));
	const band = angles.flatMap((angle, i) => [
		along[i] as Direction,
		...[place(angle, -HALF_BAND), place(angle, HALF_BAND)].filter(isUp),
	]);
	const whole =
		Math.min(-left, right) >= FEET_APART &&
		staysUnder(isOver, left) &&
		staysUnder(isOver, right) &&
		along.slice(1, -1).every((one) => coveredBy(cover, one) === undefined);
	return { top: seenTop, left: place(left), right: place(right), whole, along, band };
}

/** How far the arch turns between two instants, degrees: by as much its pole moves. */
export const archTurn = (spot: Spot, from: EpochMs, until: EpochMs): number =>
	separation(galacticPole(spot, from), galacticPole(spot, until));

/** The arch's top in (x, y, z) of date: the place of the galactic equator nearest to the zenith. */
export function archTopOfDate(spot: Spot, at: EpochMs): Vector {
	const frame = frameNear(at);
	const lst = siderealRad(frame, at) + spot.longitude * RAD;
	const [s, c] = [Math.sin(spot.latitude * RAD), Math.cos(spot.latitude * RAD)];
	const zenith: Vector = [c * Math.cos(lst), c * Math.sin(lst), s];
	const pole = fixedVector(GALACTIC_POLE.rightAscension, GALACTIC_POLE.declination, frame);
	const along = zenith[0] * pole[0] + zenith[1] * pole[1] + zenith[2] * pole[2];
	return unit(plus(zenith, times(pole, -along)));
}

/** The north galactic pole as (east, north, up). */
function galacticPole(spot: Spot, at: EpochMs): Vector {
	const frame = frameNear(at);
	const pole = fixedVector(GALACTIC_POLE.rightAscension, GALACTIC_POLE.declination, frame);
	return toLocal(pole, siderealRad(frame, at) + spot.longitude * RAD, spot.latitude);
}

function topOf(pole: Vector): Vector {
	return unit(plus([0, 0, 1], times(pole, -pole[2])));
}

/** The angle from the top, to one side, at which it first meets the skyline; the horizon at the latest. */
function footOf(isOver: (angle: number) => boolean, side: 1 | -1): number {
	let over = 0;
	while (over < 95 && isOver(side * (over + STEP))) over += STEP;
	let under = over + STEP;
	while (under - over > 1e-4) {
		const middle = (over + under) / 2;
		if (isOver(side * middle)) over = middle;
		else under = middle;
	}
	return side * over;
}

/** Whether it stays below the skyline from a foot down to the level horizon. */
function staysUnder(isOver: (angle: number) => boolean, foot: number): boolean {
	for (let angle = Math.abs(foot) + STEP; angle < 90; angle += STEP) if (isOver(Math.sign(foot) * angle)) return false;
	return true;
}
