/**
 * A comet on an orbit about the Sun alone: ellipse, parabola or hyperbola by one formula.
 *
 * Kepler's equation in a universal variable χ from perihelion (R. H. Battin, *An Introduction to the Mathematics and
 * Methods of Astrodynamics*, 4.5; from memory): with α = (1 − e) / q and Stumpff's functions c of α χ²,
 * k t = q χ + e χ³ c₃, and in the plane of the orbit x = q − χ² c₂, y = √(q (1 + e)) χ c₁, r = q + e χ² c₂. Nothing in it
 * becomes indefinite at e = 1.
 */
import { Body, HelioVector } from "astronomy-engine";
import type { EpochMs } from "../earth/zone.ts";
import { astroTime, frameNear } from "./frame.ts";
import { track } from "./track.ts";
import { DEG, dot, length, plus, RAD, separation, times, unit, type Vector } from "./vector.ts";

/** Osculating elements; angles in degrees, to the ecliptic and equinox J2000. */
export interface CometElements {
	/** Designation and name. */
	readonly name: string;
	/** Days from J2000.0, TT. */
	readonly perihelion: number;
	/** Astronomical units. */
	readonly perihelionDistance: number;
	readonly eccentricity: number;
	readonly argument: number;
	readonly node: number;
	readonly inclination: number;
	/** What day they are of, from J2000.0; undefined where they do not say. */
	readonly epoch: number | undefined;
	/** H and n of m = H + 5 log Δ + 2.5 n log r. */
	readonly magnitude: number | undefined;
	readonly slope: number | undefined;
}

/** Gauss' constant: √(GM) of the Sun, astronomical units and days. */
const K = 0.01720209895;
/** Obliquity of the ecliptic J2000 (IAU 1976, to which elements are referred), degrees. */
const OBLIQUITY = 84381.448 / 3600;
const LIGHT_DAYS_PER_AU = 0.00577551833;
const HOUR_MS = 3_600_000;

/** Stumpff's c₂ and c₃. */
export function stumpff(z: number): readonly [c2: number, c3: number] {
	if (Math.abs(z) < 1) {
		let [c2, c3, term] = [0, 0, 1];
		for (let n = 0; n < 10; n++) {
			c2 += term / ((2 * n + 1) * (2 * n + 2));
			c3 += term / ((2 * n + 1) * (2 * n + 2) * (2 * n + 3));
			term *= -z / ((2 * n + 1) * (2 * n + 2));
		}
		return [c2, c3];
	}
	const s = Math.sqrt(Math.abs(z));
	return z > 0
		? [(2 * Math.sin(s / 2) ** 2) / z, (s - Math.sin(s)) / s ** 3]
		: [(2 * Math.sinh(s / 2) ** 2) / -z, (Math.sinh(s) - s) / s ** 3];
}

/** The universal variable so many days after perihelion. */
function universal(q: number, e: number, days: number): number {
	const alpha = (1 - e) / q;
	let t = days;
	if (alpha > 0) {
		const period = (2 * Math.PI) / (K * alpha ** 1.5);
		t -= period * Math.round(t / period);
	}
	const wanted = K * Math.abs(t);
	// k t grows with χ at the rate r, which is never under q; not slower than on a parabola where the orbit is no ellipse.
	let low = 0;
	let high = Math.min(wanted / q, alpha > 0 ? Math.PI / Math.sqrt(alpha) : Math.cbrt((6 * wanted) / e));
	let chi = Math.min(high, Math.cbrt((6 * wanted) / Math.max(e, 0.1)));
	for (let i = 0; i < 100 && high - low > 1e-15 * high; i++) {
		const [c2, c3] = stumpff(alpha * chi * chi);
		const over = q * chi + e * chi ** 3 * c3 - wanted;
		if (over > 0) high = chi;
		else low = chi;
		const next = chi - over / (q + e * chi * chi * c2);
		if (Math.abs(next - chi) < 1e-15 * chi) break;
		chi = next > low && next < high ? next : (low + high) / 2;
	}
	return t < 0 ? -chi : chi;
}

/** Heliocentric place, EQJ, astronomical units, at an instant in days from J2000.0, TT. */
export function heliocentric(elements: CometElements, days: number): Vector {
	const { perihelion, perihelionDistance: q, eccentricity: e, argument, node, inclination } = elements;
	const chi = universal(q, e, days - perihelion);
	const z = ((1 - e) / q) * chi * chi;
	const [c2, c3] = stumpff(z);
	const [x, y] = [q - chi * chi * c2, Math.sqrt(q * (1 + e)) * chi * (1 - z * c3)];
	const [sw, cw] = [Math.sin(argument * RAD), Math.cos(argument * RAD)];
	const [so, co] = [Math.sin(node * RAD), Math.cos(node * RAD)];
	const [si, ci] = [Math.sin(inclination * RAD), Math.cos(inclination * RAD)];
	const [u, v] = [x * cw - y * sw, x * sw + y * cw];
	return fromEcliptic([u * co - v * so * ci, u * so + v * co * ci, v * si]);
}

const [SIN_OBLIQUITY, COS_OBLIQUITY] = [Math.sin(OBLIQUITY * RAD), Math.cos(OBLIQUITY * RAD)];

/** From the ecliptic J2000 to the equator J2000. */
const fromEcliptic = ([x, y, z]: Vector): Vector => [
	x,
	y * COS_OBLIQUITY - z * SIN_OBLIQUITY,
	y * SIN_OBLIQUITY + z * COS_OBLIQUITY,
];

/** Earth's heliocentric place, EQJ, astronomical units; within 0.01″ of the exact one as seen from the Sun. */
const earthTrack = track(
	(at) => {
		const { x, y, z } = HelioVector(Body.Earth, astroTime(at));
		return [x, y, z];
	},
	24 * HOUR_MS,
	6,
);

/** Where the comet is as seen from Earth's middle, light time included: from there and from the Sun, EQJ, astronomical units. */
function seen(elements: CometElements, at: EpochMs): { readonly fromEarth: Vector; readonly fromSun: Vector } {
	const days = astroTime(at).tt;
	const earth = earthTrack(at);
	let fromSun = heliocentric(elements, days);
	let fromEarth = plus(fromSun, times(earth, -1));
	for (let i = 0; i < 3; i++) {
		fromSun = heliocentric(elements, days - length(fromEarth) * LIGHT_DAYS_PER_AU);
		fromEarth = plus(fromSun, times(earth, -1));
	}
	return { fromEarth, fromSun };
}

/** Apparent geocentric vector, EQJ, astronomical units: light time and annual aberration included. */
export function cometVector(elements: CometElements, at: EpochMs): Vector {
	const { fromEarth } = seen(elements, at);
	const distance = length(fromEarth);
	return times(unit(plus(times(fromEarth, 1 / distance), frameNear(at).earthVelocity)), distance);
}

/** Astrometric place J2000, degrees: what ephemerides list. */
export function astrometricPlace(
	elements: CometElements,
	at: EpochMs,
): { readonly rightAscension: number; readonly declination: number; readonly distance: number } {
	const { fromEarth } = seen(elements, at);
	const [x, y, z] = unit(fromEarth);
	return {
		rightAscension: (Math.atan2(y, x) * DEG + 360) % 360,
		declination: Math.asin(z) * DEG,
		distance: length(fromEarth),
	};
}

/** How far a comet is, and how it moves. */
export interface CometState {
	/** Astronomical units. */
	readonly fromSun: number;
	readonly fromEarth: number;
	/** Angle between comet and Sun as seen from Earth, degrees. */
	readonly elongation: number;
	/** Against the stars, arcseconds a minute. */
	readonly motion: number;
	/** The direction away from the Sun at the comet, EQJ: where its tail points, seen from here. */
	readonly away: Vector;
}

/** How far a comet is at an instant, and how it moves. */
export function cometState(elements: CometElements, at: EpochMs): CometState {
	const { fromEarth, fromSun } = seen(elements, at);
	const later = seen(elements, at + HOUR_MS).fromEarth;
	const here = unit(fromEarth);
	// A point of the tail a hundredth of the way farther out.
	const tail = plus(fromEarth, times(fromSun, 0.01));
	return {
		fromSun: length(fromSun),
		fromEarth: length(fromEarth),
		elongation: separation(here, unit(times(earthTrack(at), -1))),
		motion: (separation(here, unit(later)) * 3600) / 60,
		away: unit(plus(unit(tail), times(here, -dot(here, unit(tail))))),
	};
}

/** Total magnitude by the elements; comets are often a magnitude or more off it. */
export function cometMagnitude(elements: CometElements, at: EpochMs): number | undefined {
	const { magnitude, slope } = elements;
	if (magnitude === undefined || slope === undefined) return undefined;
	const { fromEarth, fromSun } = seen(elements, at);
	return magnitude + 5 * Math.log10(length(fromEarth)) + 2.5 * slope * Math.log10(length(fromSun));
}

/** What day the elements are of, from J2000.0: their epoch, else their perihelion. */
export const dayOfElements = ({ epoch, perihelion }: CometElements): number => epoch ?? perihelion;
