/** Smooth paths of the Sun and the Moon, interpolated from few exact places. */
import { Body, GeoMoon, GeoVector } from "astronomy-engine";
import type { EpochMs } from "../earth/zone.ts";
import { Kept } from "../memory/memory.ts";

import { astroTime } from "./frame.ts";
import type { Vector } from "./vector.ts";

/** Light needs this long for one astronomical unit, milliseconds. */
const LIGHT_MS_PER_AU = 499_004.78;
const MOON_DISTANCE_AU = 0.00257;

/** Geocentric vector of the Moon as it is seen (light time included), EQJ, astronomical units. */
function moonVector(at: EpochMs): Vector {
	const { x, y, z } = GeoMoon(astroTime(at - MOON_DISTANCE_AU * LIGHT_MS_PER_AU));
	return [x, y, z];
}

/** Geocentric vector of a planet or the Sun as it is seen (light time and aberration included), EQJ, astronomical units. */
export function planetVector(body: Body, at: EpochMs): Vector {
	const { x, y, z } = GeoVector(body, astroTime(at), true);
	return [x, y, z];
}

/**
 * A path known at nodes `stepMs` apart, each computed once, with a polynomial through the `points` nodes around an
 * instant (Lagrange). Holds at most 3000 nodes.
 */
export function track(exact: (at: EpochMs) => Vector, stepMs: number, points: number): (at: EpochMs) => Vector {
	const nodes = new Kept<number, Vector>(3000);
	const made = (k: number): Vector => exact(k * stepMs);
	const node = (k: number): Vector => nodes.of(k, made);
	/** (−1)^j / (j! (n−1−j)!): barycentric weights of equally spaced nodes. */
	const weights = Array.from({ length: points }, (_, j) => {
		let weight = (points - 1 - j) % 2 === 0 ? 1 : -1;
		for (let i = 0; i < points; i++) if (i !== j) weight /= Math.abs(j - i);
		return weight;
	});
	// A night asks between the same nodes over and over.
	let begin = Number.NaN;
	let around: readonly Vector[] = [];
	return (at) => {
		const position = at / stepMs;
		const first = Math.floor(position) - points / 2 + 1;
		if (first !== begin) {
			around = weights.map((_, j) => node(first + j));
			begin = first;
		}
		let x = 0;
		let y = 0;
		let z = 0;
		let sum = 0;
		for (let j = 0; j < points; j++) {
			const offset = position - (first + j);
			const value = around[j] as Vector;
			if (offset === 0) return value;
			const weight = (weights[j] as number) / offset;
			x += weight * value[0];
			y += weight * value[1];
			z += weight * value[2];
			sum += weight;
		}
		return [x / sum, y / sum, z / sum];
	};
}

const HOUR_MS = 3_600_000;

/** The Sun's apparent geocentric vector, EQJ, astronomical units; within 0.01″ of the exact one (tested). */
export const sunTrack = track((at) => planetVector(Body.Sun, at), 24 * HOUR_MS, 6);

/** The Moon's, within 0.1″ of the exact one (tested). */
export const moonTrack = track(moonVector, 12 * HOUR_MS, 8);

const trackOf = (body: Body) => track((t) => planetVector(body, t), 24 * HOUR_MS, 6);
const planetTracks = new Kept<Body, (at: EpochMs) => Vector>(20);

/** A planet's apparent geocentric vector, EQJ, astronomical units; within 0.05″ of the exact one (tested). */
export function planetTrack(body: Body, at: EpochMs): Vector {
	return planetTracks.of(body, trackOf)(at);
}
