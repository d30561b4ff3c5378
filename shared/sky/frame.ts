/**
 * The frame of date: what turns a J2000 direction into an apparent place at an instant. Precession and nutation from
 * astronomy-engine (IAU 2006 precession, truncated IAU 2000B nutation; within 0.35″ of ERFA), annual aberration from
 * Earth's velocity, sidereal time with UTC taken as UT1 (at most 0.9 s, 13.5″ of turn).
 */
import {
	BaryState,
	Body,
	DeltaT_EspenakMeeus,
	MakeTime,
	Rotation_EQJ_EQD,
	SetDeltaTFunction,
	SiderealTime,
} from "astronomy-engine";
import type { EpochMs } from "../earth/zone.ts";
import { Kept } from "../memory/memory.ts";

import type { Matrix, Vector } from "./vector.ts";

/** Days from 1970-01-01 to J2000.0 (2000-01-01 12:00), UTC. */
const J2000_DAYS = 10_957.5;
const DAY_MS = 86_400_000;

/**
 * TT − UTC is 69.184 s and will stay near it (no leap second since 2017); the package's own prediction is 6 s off now,
 * 3″ on the Moon. Outside the present decades its formula is used.
 */
SetDeltaTFunction((days) => {
	const year = 2000 + days / 365.25;
	return year > 2012 && year < 2045 ? 69.184 : DeltaT_EspenakMeeus(days);
});

/** Days since J2000.0, UTC. */
export const daysSinceJ2000 = (at: EpochMs): number => at / DAY_MS - J2000_DAYS;

/** astronomy-engine's time of an instant. */
export const astroTime = (at: EpochMs) => MakeTime(daysSinceJ2000(at));

export interface SkyFrame {
	readonly at: EpochMs;
	/** From the J2000 equator and equinox (EQJ) to the true equator and equinox of date (EQD). */
	readonly toDate: Matrix;
	/** Earth's place from the solar system's barycentre, EQJ, astronomical units. */
	readonly earthPosition: Vector;
	/** Earth's velocity about the solar system's barycentre, EQJ, in units of the speed of light. */
	readonly earthVelocity: Vector;
	/** Greenwich apparent sidereal time at `at`, radians. */
	readonly siderealRad: number;
}

/** Speed of light, astronomical units a day. */
const LIGHT_AU_PER_DAY = 173.1446326846693;
/** Turns of the sky in one day of UT1. */
const SIDEREAL_RATE = 1.00273790935;

/** The frame of one instant. */
export function frameAt(at: EpochMs): SkyFrame {
	const time = astroTime(at);
	const { rot } = Rotation_EQJ_EQD(time);
	const column = (j: 0 | 1 | 2): Vector => [rot[0]?.[j] as number, rot[1]?.[j] as number, rot[2]?.[j] as number];
	const earth = BaryState(Body.Earth, time);
	return {
		at,
		toDate: [column(0), column(1), column(2)],
		earthPosition: [earth.x, earth.y, earth.z],
		earthVelocity: [earth.vx / LIGHT_AU_PER_DAY, earth.vy / LIGHT_AU_PER_DAY, earth.vz / LIGHT_AU_PER_DAY],
		siderealRad: (SiderealTime(time) * Math.PI) / 12,
	};
}

const GRID_MS = DAY_MS / 2;
/** Frames by half day. */
const frames = new Kept<number, SkyFrame>(1500);
const frameOf = (halfDay: number): SkyFrame => frameAt(halfDay * GRID_MS);

/**
 * The frame of the nearest half day: at most 6 h away, over which precession, nutation and aberration change places
 * by less than 0.15″. A night needs three of them.
 */
export function frameNear(at: EpochMs): SkyFrame {
	return frames.of(Math.round(at / GRID_MS), frameOf);
}

/** Greenwich apparent sidereal time at an instant near the frame's, radians (not reduced to one turn). */
export const siderealRad = (frame: SkyFrame, at: EpochMs): number =>
	frame.siderealRad + ((at - frame.at) / DAY_MS) * SIDEREAL_RATE * 2 * Math.PI;

/** Milliseconds in which the sky turns by an angle in radians. */
export const turnMs = (angleRad: number): number => ((angleRad / (2 * Math.PI)) * DAY_MS) / SIDEREAL_RATE;

/** How fast the sky turns: radians a second, and arcseconds a second (15.041). */
export const SKY_RATE_RAD = (SIDEREAL_RATE * 2 * Math.PI) / 86_400;
/** The sky's turning, arcseconds in a second of time. */
export const SKY_RATE_ARCSEC = (SKY_RATE_RAD * 180 * 3600) / Math.PI;
