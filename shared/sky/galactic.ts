/** Galactic coordinates to J2000 equatorial ones (the IAU 1958 system by Hipparcos' definition), degrees. */
import { DEG, RAD, turn } from "./vector.ts";

const POLE = { rightAscension: 192.85948, declination: 27.12825, longitude: 122.93192 };

export function fromGalactic(longitude: number, latitude: number): { rightAscension: number; declination: number } {
	const [l, b, p] = [(POLE.longitude - longitude) * RAD, latitude * RAD, POLE.declination * RAD];
	const declination = Math.asin(Math.sin(b) * Math.sin(p) + Math.cos(b) * Math.cos(p) * Math.cos(l));
	const y = Math.cos(b) * Math.sin(l);
	const x = Math.sin(b) * Math.cos(p) - Math.cos(b) * Math.sin(p) * Math.cos(l);
	return { rightAscension: turn(POLE.rightAscension + Math.atan2(y, x) * DEG), declination: declination * DEG };
}
