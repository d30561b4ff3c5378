/**
 * The night: what the Sun and the Moon do from one local noon to the next.
 *
 * Rise and set by the usual convention: upper limb on a level horizon under 34′ of refraction (Sun: centre at
 * −0.8333°; Moon: −(34′ + its semidiameter)), topocentric. Twilights: the Sun's centre at −6°, −12°, −18°, airless
 * (USNO, "Rise, Set, and Twilight Definitions").
 */
import type { EpochMs } from "../earth/zone.ts";
import { Kept, KeptBy } from "../memory/memory.ts";

import { frameNear, siderealRad } from "./frame.ts";
import { apart, type Direction } from "./horizontal.ts";
import type { Interval } from "./intervals.ts";
import { apparentDirection, observerParts, type SkyBody, type Spot } from "./place.ts";
import { crossings, least, whereAtLeastZero } from "./roots.ts";
import { moonTrack, sunTrack } from "./track.ts";
import { DEG, length, RAD, rotate, type Vector } from "./vector.ts";

const MINUTE_MS = 60_000;
const SUN_STEP = 60 * MINUTE_MS;
const MOON_STEP = 60 * MINUTE_MS;

export const SUNSET_ALTITUDE = -50 / 60;

/** Altitude of the Sun's centre without refraction, degrees. */
export const sunAltitude = (spot: Spot, at: EpochMs): number =>
	sunAltitudes.of(spot, newMinutes).of(at, () => sunHeight(spot, at));
/** Altitude of the Moon's centre without refraction, degrees. */
export const moonAltitude = (spot: Spot, at: EpochMs): number =>
	moonAltitudes.of(spot, newMinutes).of(at, () => heightOf(moonTrack, spot, at).altitude);

/** Sun's altitude at which stars are out for a camera, degrees: the end of nautical twilight. */
const STARS_OUT = -12;

/** Whether a frame of the sky shows stars. */
export const starsOut = (spot: Spot, at: EpochMs): boolean => sunAltitude(spot, at) < STARS_OUT;

/** Nearer to the Sun than this nobody looks or points while it is up, degrees. Common practice, no source. */
export const NEAR_SUN = 20;
const SUN: SkyBody = { type: "sun", name: "Sun" };
/** Where the Sun is seen. */
export const sunAt = (spot: Spot, at: EpochMs): Direction => apparentDirection(SUN, spot, at);
/** How far a direction is from the Sun, degrees. */
export const fromSun = (direction: Direction, spot: Spot, at: EpochMs): number => apart(direction, sunAt(spot, at));

/** Every body that is looked for asks at the same minutes how light it is. */
const sunAltitudes = new KeptBy<Spot, Kept<EpochMs, number>>();
const moonAltitudes = new KeptBy<Spot, Kept<EpochMs, number>>();
const newMinutes = (): Kept<EpochMs, number> => new Kept(500);

/** The same, computed each time: for searches that ask at moments of their own. */
const sunHeight = (spot: Spot, at: EpochMs): number => heightOf(sunTrack, spot, at).altitude;

/** Altitude of the Moon's upper limb above the level, refracted horizon of the convention, degrees. */
export function moonAboveHorizon(spot: Spot, at: EpochMs): number {
	const { altitude, distance } = heightOf(moonTrack, spot, at);
	const semidiameter = Math.asin(MOON_RADIUS_AU / distance) * DEG;
	return altitude + 34 / 60 + semidiameter;
}

const MOON_RADIUS_AU = 1737.4 / 149_597_870.7;

/** Constants of a spot, computed once for it. */
interface Ground {
	readonly sinLatitude: number;
	readonly cosLatitude: number;
	readonly longitudeRad: number;
	readonly rhoCos: number;
	readonly rhoSin: number;
}
const grounds = new KeptBy<Spot, Ground>();

const groundOf = (spot: Spot): Ground => grounds.of(spot, newGround);

const newGround = (spot: Spot): Ground => ({
	sinLatitude: Math.sin(spot.latitude * RAD),
	cosLatitude: Math.cos(spot.latitude * RAD),
	longitudeRad: spot.longitude * RAD,
	...observerParts(spot),
});
/**
 * Altitude, degrees, and distance, AU, of a near body from the stand: what `airlessDirection` gives, less diurnal
 * aberration, without the vectors in between. The search for rising and setting asks this some hundred times a night.
 */
function heightOf(path: (at: EpochMs) => Vector, spot: Spot, at: EpochMs): { altitude: number; distance: number } {
	const { sinLatitude, cosLatitude, longitudeRad, rhoCos, rhoSin } = groundOf(spot);
	const frame = frameNear(at);
	const [x, y, z] = rotate(frame.toDate, path(at));
	const meridian = siderealRad(frame, at) + longitudeRad;
	const out = x * Math.cos(meridian) + y * Math.sin(meridian);
	const up = cosLatitude * (out - rhoCos) + sinLatitude * (z - rhoSin);
	const distance = Math.sqrt(
		x * x + y * y + z * z - 2 * (rhoCos * out + rhoSin * z) + rhoCos * rhoCos + rhoSin * rhoSin,
	);
	return { altitude: Math.asin(up / distance) * DEG, distance };
}

/** Lit share of the Moon's disc, 0 … 1, geocentric (Meeus, ch. 48, with exact places). */
export function moonIllumination(at: EpochMs): number {
	const sun = sunTrack(at);
	const moon = moonTrack(at);
	const toSun: [number, number, number] = [sun[0] - moon[0], sun[1] - moon[1], sun[2] - moon[2]];
	const cosPhase = -(toSun[0] * moon[0] + toSun[1] * moon[1] + toSun[2] * moon[2]) / (length(toSun) * length(moon));
	return (1 + cosPhase) / 2;
}

export type TwilightName =
	| "sunset"
	| "civil-dusk"
	| "nautical-dusk"
	| "astronomical-dusk"
	| "astronomical-dawn"
	| "nautical-dawn"
	| "civil-dawn"
	| "sunrise";

const LEVELS: readonly (readonly [dusk: TwilightName, dawn: TwilightName, altitude: number])[] = [
	["sunset", "sunrise", SUNSET_ALTITUDE],
	["civil-dusk", "civil-dawn", -6],
	["nautical-dusk", "nautical-dawn", -12],
	["astronomical-dusk", "astronomical-dawn", -18],
];

export interface Night {
	/** From the noon before to the noon after. */
	readonly span: Interval;
	/** The Sun's events; what does not happen this night is left out. */
	readonly sun: Readonly<Partial<Record<TwilightName, EpochMs>>>;
	readonly moonrise: readonly EpochMs[];
	readonly moonset: readonly EpochMs[];
	/** Lit share of the Moon in the middle of the span. */
	readonly moonIllumination: number;
	/** When the Moon's upper limb is above a level horizon. */
	readonly moonUp: readonly Interval[];
	/** When the Sun's centre is further than the wanted angle below the horizon. */
	readonly sunDark: readonly Interval[];
	/** The Sun's altitude range over the span, degrees: says why an event does not happen. */
	readonly sunRange: () => { readonly lowest: number; readonly highest: number };
}

/** The night of a stand over a span of a day, dark when the Sun is `sunBelow` degrees or more below the horizon. */
export function nightOf(spot: Spot, span: Interval, sunBelow: number): Night {
	const sun: Partial<Record<TwilightName, EpochMs>> = {};
	const sampled = new Map<EpochMs, number>();
	const altitude = (at: EpochMs): number => {
		let value = sampled.get(at);
		if (value === undefined) {
			value = sunHeight(spot, at);
			sampled.set(at, value);
		}
		return value;
	};
	for (const [dusk, dawn, level] of LEVELS) {
		const passed = crossings((at) => altitude(at) - level, span.from, span.until, SUN_STEP);
		const set = passed.find(({ rising }) => !rising);
		const rise = passed.filter(({ rising }) => rising).at(-1);
		if (set) sun[dusk] = set.at;
		if (rise) sun[dawn] = rise.at;
	}
	const moon = crossings((at) => moonAboveHorizon(spot, at), span.from, span.until, MOON_STEP);
	return {
		span,
		sun,
		moonrise: moon.filter(({ rising }) => rising).map(({ at }) => at),
		moonset: moon.filter(({ rising }) => !rising).map(({ at }) => at),
		moonIllumination: moonIllumination((span.from + span.until) / 2),
		moonUp: upBetween(moon, span, () => moonAboveHorizon(spot, span.from) >= 0),
		sunDark: whereAtLeastZero((at) => -sunBelow - altitude(at), span, SUN_STEP),
		sunRange: () => ({ lowest: extreme(1), highest: -extreme(-1) }),
	};

	/** The Sun's least altitude (times `sign`): near the least of the samples, or near an end of the span, which is about noon. */
	function extreme(sign: 1 | -1): number {
		let [best, lowest] = [Number.POSITIVE_INFINITY, span.from];
		for (const [at, value] of sampled) {
			if (sign * value >= best) continue;
			best = sign * value;
			lowest = at;
		}
		const near = (at: EpochMs): number =>
			least(
				(time) => sign * sunHeight(spot, time),
				Math.max(span.from, at - SUN_STEP),
				Math.min(span.until, at + SUN_STEP),
			);
		return Math.min(near(span.from), near(lowest), near(span.until));
	}
}

function upBetween(
	passed: readonly { at: EpochMs; rising: boolean }[],
	span: Interval,
	upAtStart: () => boolean,
): readonly Interval[] {
	const up: Interval[] = [];
	let since = (passed[0] ? !passed[0].rising : upAtStart()) ? span.from : undefined;
	for (const { at, rising } of passed) {
		if (rising) since = at;
		else if (since !== undefined) {
			up.push({ from: since, until: at });
			since = undefined;
		}
	}
	if (since !== undefined) up.push({ from: since, until: span.until });
	return up;
}

/** Between two altitudes of the Sun, the faintest at each. */
const AIMED_AT = [
	{ low: -18, atLow: 4.5, high: -12, atHigh: 3 },
	{ low: -12, atLow: 3, high: -6, atHigh: 0.5 },
	{ low: -6, atLow: 0.5, high: 0, atHigh: -3 },
];

/**
 * Faintest star a person points at by eye: V 4.5 in the dark, less in twilight and moonlight. Common practice, no
 * source: −18° → 4.5, −12° → 3, −6° → 0.5, 0° → −3, linear between; a bright Moon high up costs up to 1.5.
 */
export function faintestToAim(sun: number, moon: number, illumination: number): number {
	let limit = sun <= -18 ? 4.5 : -3;
	for (const { low, atLow, high, atHigh } of AIMED_AT)
		if (sun > low && sun <= high) limit = atLow + ((atHigh - atLow) * (sun - low)) / (high - low);
	const moonlight = moon > 0 ? 1.5 * illumination * Math.min(1, Math.sin(moon * RAD) * 2) : 0;
	return limit - moonlight;
}

/** The same on a night of the spot, at an instant. */
export const faintestToAimAt = (spot: Spot, night: Night, at: EpochMs): number =>
	limits
		.of(night, newLimits)
		.of(at, (at) => faintestToAim(sunAltitude(spot, at), moonAltitude(spot, at), night.moonIllumination));

/** Every star that is looked for asks at the same minutes. */
const limits = new KeptBy<Night, Kept<EpochMs, number>>();
const newLimits = (): Kept<EpochMs, number> => new Kept(1000);
