/**
 * Refraction of starlight near the horizon and above it: one model, both ways.
 *
 * From a true altitude: Sæmundsson, Sky & Telescope 72 (1986) 70: R′ = 1.02 cot(h + 10.3/(h + 5.11)), for 1010 hPa and
 * 10 °C, scaled by P/1010 · 283/(273 + T) (Meeus, Astronomical Algorithms, ch. 16). From an apparent altitude the same
 * is inverted numerically. The usual formula for that way (Bennett 1982) is no inverse of it: the two are 3″ to 4″
 * apart at 10° to 20°, and a trail, the difference of two places, would be off by so much in a frame of no length.
 * Below −1° the formula has no meaning and fades out here.
 */
import { RAD } from "./vector.ts";

export interface Air {
	/** hPa at the stand. */
	readonly pressure: number;
	/** °C. */
	readonly temperature: number;
}

/** Pressure of the standard atmosphere at an elevation in metres, hPa (ISO 2533, troposphere). */
export function standardPressure(elevation: number): number {
	return 1013.25 * (1 - 2.25577e-5 * Math.min(elevation, 11_000)) ** 5.25588;
}

const scale = ({ pressure, temperature }: Air): number => ((pressure / 1010) * 283) / (273 + temperature);

/** Lowest altitude at which the formulas are used; below it refraction falls linearly to none at −3°. */
const LOWEST = -1;
const fade = (altitude: number): number => (altitude >= LOWEST ? 1 : Math.max(0, (altitude + 3) / (LOWEST + 3)));

/** How much higher a thing looks than it is, degrees, from its true (airless) altitude in degrees. */
export function refractionOfTrue(altitude: number, air: Air): number {
	const h = Math.max(altitude, LOWEST);
	const minutes = 1.02 / Math.tan((h + 10.3 / (h + 5.11)) * RAD);
	return (Math.max(0, minutes) / 60) * scale(air) * fade(altitude);
}

/** As the eye sees it, degrees, from the altitude without air. */
export const apparentAltitude = (trueAltitude: number, air: Air): number =>
	trueAltitude + refractionOfTrue(trueAltitude, air);

/** Degrees to which the inverse is found: a thousandth of a milliarcsecond. */
const CLOSE = 3e-10;

/**
 * Without air, degrees, from the altitude that the eye sees: the inverse of `apparentAltitude`, which grows with the
 * altitude everywhere. Each step takes off the refraction of the altitude found so far; one in three of the error is
 * left of a step where the formula fades out, one in ten at the horizon, less above.
 */
export function trueAltitude(apparent: number, air: Air): number {
	let altitude = apparent;
	for (let i = 0; i < 40; i++) {
		const next = apparent - refractionOfTrue(altitude, air);
		if (Math.abs(next - altitude) < CLOSE) return next;
		altitude = next;
	}
	return altitude;
}

/** How much higher a thing looks than it is, degrees, from the altitude it is seen at. */
export const refractionOfApparent = (apparent: number, air: Air): number => apparent - trueAltitude(apparent, air);
