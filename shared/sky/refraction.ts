/**
 * Refraction of starlight near the horizon and above it.
 *
 * From an apparent altitude: Bennett, J. Navigation 35 (1982) 255: R′ = cot(h + 7.31/(h + 4.4)).
 * From a true altitude: Sæmundsson, Sky & Telescope 72 (1986) 70: R′ = 1.02 cot(h + 10.3/(h + 5.11)).
 * Both for 1010 hPa and 10 °C, scaled by P/1010 · 283/(273 + T) (Meeus, Astronomical Algorithms, ch. 16).
 * They agree to 0.1′ with each other; below −1° they have no meaning and fade out here.
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

/** How much higher a thing looks than it is, degrees, from the altitude it is seen at. */
export function refractionOfApparent(altitude: number, air: Air): number {
	const h = Math.max(altitude, LOWEST);
	const minutes = 1 / Math.tan((h + 7.31 / (h + 4.4)) * RAD);
	return (Math.max(0, minutes) / 60) * scale(air) * fade(altitude);
}

/** As the eye sees it, degrees, from the altitude without air. */
export const apparentAltitude = (trueAltitude: number, air: Air): number =>
	trueAltitude + refractionOfTrue(trueAltitude, air);
/** Without air, degrees, from the altitude that the eye sees. */
export const trueAltitude = (apparent: number, air: Air): number => apparent - refractionOfApparent(apparent, air);
