/**
 * Where a star is seen, from formulas of our own choice that share no code with `shared/`: for checks of printed numbers.
 *
 * Precession: the angles of J. Meeus, Astronomical Algorithms, ch. 21 (IAU 1976); aberration: his 23.3, circular orbit;
 * sidereal time: his 12.4; refraction: his 16.4 for 1010 hPa and 10 °C, as a rule for any air [all from memory].
 * Nutation (9″) is left out. Good to 0.01° above 5°.
 */
import { dir, type V } from "./simulation.ts";

const R = Math.PI / 180;

const turnZ = (v: V, degrees: number): V => {
	const [c, s] = [Math.cos(degrees * R), Math.sin(degrees * R)];
	return [c * v[0] - s * v[1], s * v[0] + c * v[1], v[2]];
};
const turnY = (v: V, degrees: number): V => {
	const [c, s] = [Math.cos(degrees * R), Math.sin(degrees * R)];
	return [c * v[0] - s * v[2], v[1], s * v[0] + c * v[2]];
};

/** J2000 place, degrees, and proper motion, arcseconds a year (the right ascension's with cos δ). */
export interface OwnStar {
	readonly rightAscension: number;
	readonly declination: number;
	readonly motion: readonly [number, number];
}

/** The Hipparcos Catalogue's places at J2000 (ESA SP-1200), as SIMBAD gives them [from memory]. */
export const OWN_STARS = {
	"eta Virginis": { rightAscension: 184.97648, declination: -0.66679, motion: [-0.06, -0.021] },
	Mintaka: { rightAscension: 83.00167, declination: -0.29909, motion: [0.001, 0] },
	Procyon: { rightAscension: 114.8255, declination: 5.225, motion: [-0.716, -1.036] },
	Polaris: { rightAscension: 37.95456, declination: 89.26411, motion: [0.044, -0.012] },
	"sigma Octantis": { rightAscension: 317.19526, declination: -88.95649, motion: [0.026, 0.005] },
} as const satisfies Readonly<Record<string, OwnStar>>;

/** Direction (east, north, up) in which a star is seen. */
export function ownDirection(star: OwnStar, latitude: number, longitude: number, at: number): V {
	const days = at / 86_400_000 - 10957.5;
	const t = days / 36525;
	const years = days / 365.25;
	const declination = star.declination + (star.motion[1] * years) / 3600;
	const rightAscension = star.rightAscension + (star.motion[0] * years) / 3600 / Math.cos(star.declination * R);
	const zeta = (2306.2181 * t + 0.30188 * t * t) / 3600;
	const z = (2306.2181 * t + 1.09468 * t * t) / 3600;
	const theta = (2004.3109 * t - 0.42665 * t * t) / 3600;
	// In this frame x is toward the equinox, y a quarter of a turn east of it, z the north pole.
	const fixed: V = [
		Math.cos(rightAscension * R) * Math.cos(declination * R),
		Math.sin(rightAscension * R) * Math.cos(declination * R),
		Math.sin(declination * R),
	];
	const ofDate = turnZ(turnY(turnZ(fixed, zeta), theta), z);
	// Earth runs a quarter of a turn ahead of the Sun's opposite: toward the Sun's longitude less 90°.
	const sun = 280.46646 + 36000.76983 * t + 1.914602 * Math.sin((357.52911 + 35999.05029 * t) * R);
	const apex = (sun - 90) * R;
	const k = (20.4955 / 3600) * R;
	const seen: V = [
		ofDate[0] + k * Math.cos(apex),
		ofDate[1] + k * Math.sin(apex) * Math.cos(23.436 * R),
		ofDate[2] + k * Math.sin(apex) * Math.sin(23.436 * R),
	];
	const size = Math.hypot(...seen);
	const sidereal = 280.46061837 + 360.98564736629 * days + longitude;
	const hourAngle = (sidereal - Math.atan2(seen[1], seen[0]) / R) * R;
	const sine = seen[2] / size;
	const cosine = Math.sqrt(1 - sine * sine);
	const up = Math.sin(latitude * R) * sine + Math.cos(latitude * R) * cosine * Math.cos(hourAngle);
	const north = Math.cos(latitude * R) * sine - Math.sin(latitude * R) * cosine * Math.cos(hourAngle);
	const east = -cosine * Math.sin(hourAngle);
	const altitude = Math.asin(up) / R;
	return dir(Math.atan2(east, north) / R, altitude + ownRefraction(altitude));
}

/** Degrees by which a true altitude is lifted. */
export const ownRefraction = (altitude: number): number =>
	1.02 / 60 / Math.tan((altitude + 10.3 / (altitude + 5.11)) * R);
