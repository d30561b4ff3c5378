/**
 * Where a thing of the sky stands, as seen from a stand.
 *
 * Local vectors are (east, north, up). Diurnal aberration (0.3″) is included, polar motion (0.3″) is not.
 */
import { Body } from "astronomy-engine";
import type { EpochMs } from "../earth/zone.ts";
import { archTopOfDate } from "./arch.ts";
import { type CometElements, cometVector } from "./comet.ts";
import { isCometLine, readCometLine } from "./comet-line.ts";
import { frameNear, type SkyFrame, siderealRad } from "./frame.ts";
import { type Direction, directionOf, toLocal, toVector } from "./horizontal.ts";
import { findObject, objectSpellings, type SkyObject } from "./objects.ts";
import { type Air, apparentAltitude, trueAltitude } from "./refraction.ts";
import { findStar, fixedVector, type Star, starSpellings, starVector } from "./stars.ts";
import { moonTrack, planetTrack, sunTrack } from "./track.ts";
import { DEG, halfTurn, length, plus, RAD, rotate, times, turn, unit, type Vector } from "./vector.ts";

/** A place on Earth to look from. */
export interface Spot {
	/** Geodetic, degrees, north positive. */
	readonly latitude: number;
	/** Degrees, east positive. */
	readonly longitude: number;
	/** Metres above sea level. */
	readonly elevation: number;
	readonly air: Air;
}

/** A thing of the sky that can be named in a plan. */
export type SkyBody =
	| { readonly type: "star"; readonly name: string; readonly star: Star }
	| { readonly type: "planet"; readonly name: string; readonly body: Body }
	| { readonly type: "sun" | "moon"; readonly name: string }
	| { readonly type: "arch"; readonly name: string }
	| { readonly type: "comet"; readonly name: string; readonly elements: CometElements }
	| { readonly type: "pole"; readonly name: string; readonly north: boolean }
	| {
			readonly type: "fixed";
			readonly name: string;
			/** Degrees, J2000. */
			readonly rightAscension: number;
			readonly declination: number;
			/** What is there, where it was named. */
			readonly object?: SkyObject;
	  };

/** Direction of the compact source at the galaxy's centre, Sagittarius A* (Reid & Brunthaler 2004), ICRS, degrees. */
const GALACTIC_CENTRE = { rightAscension: 266.41683708, declination: -29.00781056 };

/** Names of bodies that are no stars, as a plan writes them. */
const BODIES: ReadonlyMap<string, SkyBody> = new Map<string, SkyBody>([
	["sun", { type: "sun", name: "Sun" }],
	["moon", { type: "moon", name: "Moon" }],
	["galactic-centre", { type: "fixed", name: "galactic centre", ...GALACTIC_CENTRE }],
	...(["Mercury", "Venus", "Mars", "Jupiter", "Saturn", "Uranus", "Neptune"] as const).map(
		(name): [string, SkyBody] => [name.toLowerCase(), { type: "planet", name, body: Body[name] }],
	),
]);

/** Names of bodies that are no stars. */
export const BODY_NAMES: readonly string[] = [...BODIES.keys()];

/** Places of the sky that are no bodies: the poles, and the top of the arch. */
const PLACES: ReadonlyMap<string, SkyBody> = new Map<string, SkyBody>([
	["north-celestial-pole", { type: "pole", name: "north celestial pole", north: true }],
	["milky-way-arch", { type: "arch", name: "arch of the Milky Way" }],
	["south-celestial-pole", { type: "pole", name: "south celestial pole", north: false }],
]);

/** Names of the celestial poles and of the arch. */
export const PLACE_NAMES: readonly string[] = [...PLACES.keys()];

/** Everything that can be named, for the nearest word. */
export function* allNames(): Iterable<string> {
	yield* BODY_NAMES;
	yield* PLACE_NAMES;
	yield* starSpellings();
	yield* objectSpellings();
}

/**
 * Finds a star, a planet, the Moon, the Sun, the galactic centre, a celestial pole, an object or a constellation by name,
 * a comet by its line of elements.
 */
export function findBody(name: string): SkyBody | undefined {
	if (isCometLine(name)) {
		const line = readCometLine(name);
		return line.ok ? { type: "comet", name: line.elements.name, elements: line.elements } : undefined;
	}
	const key = name
		.trim()
		.toLowerCase()
		.replace(/^the\s+/, "")
		.replace(/\s+/g, "-")
		.replace(/center$/, "centre");
	const body = BODIES.get(key) ?? PLACES.get(key);
	if (body) return body;
	const star = findStar(name);
	if (star) return { type: "star", name: star.name, star };
	const object = findObject(name);
	if (!object) return undefined;
	const { rightAscension, declination } = object;
	return { type: "fixed", name: object.name, rightAscension, declination, object };
}

const EARTH_EQUATOR_AU = 6378.137 / 149_597_870.7;
const FLATTENING = 1 / 298.257223563;

/** Cosine and sine parts of a stand's geocentric place in astronomical units, WGS 84 (Meeus, ch. 11). */
export function observerParts({ latitude, elevation }: Spot): { rhoCos: number; rhoSin: number } {
	const u = Math.atan((1 - FLATTENING) * Math.tan(latitude * RAD));
	const h = elevation / 6_378_137;
	return {
		rhoCos: EARTH_EQUATOR_AU * (Math.cos(u) + h * Math.cos(latitude * RAD)),
		rhoSin: EARTH_EQUATOR_AU * ((1 - FLATTENING) * Math.sin(u) + h * Math.sin(latitude * RAD)),
	};
}

/** Topocentric apparent vector of date; its length is the distance in AU for near bodies, 1 for the others. */
export function vectorOfDate(body: SkyBody, spot: Spot, at: EpochMs, frame: SkyFrame = frameNear(at)): Vector {
	switch (body.type) {
		case "star":
			return starVector(body.star.index, frame);
		case "arch":
			return archTopOfDate(spot, at);
		case "pole":
			return [0, 0, body.north ? 1 : -1];
		case "fixed":
			return fixedVector(body.rightAscension, body.declination, frame);
		default: {
			const geocentric = geocentricOf(body, at);
			const { rhoCos, rhoSin } = observerParts(spot);
			const lst = siderealRad(frame, at) + spot.longitude * RAD;
			return plus(rotate(frame.toDate, geocentric), [-rhoCos * Math.cos(lst), -rhoCos * Math.sin(lst), -rhoSin]);
		}
	}
}

/** Apparent geocentric vector of what moves against the stars, EQJ, astronomical units. */
function geocentricOf(body: Extract<SkyBody, { type: "planet" | "sun" | "moon" | "comet" }>, at: EpochMs): Vector {
	switch (body.type) {
		case "planet":
			return planetTrack(body.body, at);
		case "comet":
			return cometVector(body.elements, at);
		case "sun":
			return sunTrack(at);
		case "moon":
			return moonTrack(at);
	}
}

/** Speed of a point on Earth's equator over that of light. */
const DIURNAL_ABERRATION = 1.5505e-6;

/** Direction of a body without refraction. */
export function airlessDirection(body: SkyBody, spot: Spot, at: EpochMs, frame: SkyFrame = frameNear(at)): Direction {
	return directionIf(ALWAYS, body, spot, at, frame) as Direction;
}

/** From one altitude to another, degrees. */
export interface AltitudeBand {
	readonly lowest: number;
	readonly highest: number;
	/** What stands lower, or higher, without air is not seen in it. */
	readonly sinLowest: number;
	readonly sinHighest: number;
}
/** No refraction is more, degrees. */
const MOST_REFRACTED = 2;

/** The altitudes from one to another, for `directionWithin`. */
export const altitudeBand = (lowest: number, highest: number): AltitudeBand => ({
	lowest,
	highest,
	sinLowest: Math.sin((lowest - MOST_REFRACTED) * RAD),
	sinHighest: Math.sin(Math.min(90, highest + MOST_REFRACTED) * RAD) + 1e-9,
});
const ALWAYS: AltitudeBand = { lowest: -90, highest: 90, sinLowest: -2, sinHighest: 2 };

/** As `toLocal` turns it, without a vector for each step: searches ask this some thousand times a night. */
function directionIf(
	band: AltitudeBand,
	body: SkyBody,
	spot: Spot,
	at: EpochMs,
	frame: SkyFrame,
): Direction | undefined {
	const vector = vectorOfDate(body, spot, at, frame);
	const scale = 1 / length(vector);
	const x = vector[0] * scale;
	const y = vector[1] * scale;
	const z = vector[2] * scale;
	const lst = siderealRad(frame, at) + spot.longitude * RAD;
	const sinLst = Math.sin(lst);
	const cosLst = Math.cos(lst);
	const sinLatitude = Math.sin(spot.latitude * RAD);
	const cosLatitude = Math.cos(spot.latitude * RAD);
	const meridian = cosLst * x + sinLst * y;
	const up = cosLatitude * meridian + sinLatitude * z;
	if (up < band.sinLowest || up > band.sinHighest) return undefined;
	return directionOf(
		-sinLst * x + cosLst * y + DIURNAL_ABERRATION * cosLatitude,
		-sinLatitude * meridian + cosLatitude * z,
		up,
	);
}

/** Direction in which a body is seen: refraction of the stand's air included. */
export function apparentDirection(body: SkyBody, spot: Spot, at: EpochMs, frame?: SkyFrame): Direction {
	const { azimuth, altitude } = airlessDirection(body, spot, at, frame);
	return { azimuth, altitude: apparentAltitude(altitude, spot.air) };
}

/** The same where it is seen from one altitude to another; what is far from there is told by less. */
export function directionWithin(band: AltitudeBand, body: SkyBody, spot: Spot, at: EpochMs): Direction | undefined {
	const airless = directionIf(band, body, spot, at, frameNear(at));
	if (!airless) return undefined;
	const altitude = apparentAltitude(airless.altitude, spot.air);
	return altitude >= band.lowest && altitude <= band.highest ? { azimuth: airless.azimuth, altitude } : undefined;
}

/** Equatorial place of date, degrees: right ascension 0 … 360, declination, and hour angle −180 … 180, west positive. */
export function equatorialPlace(
	body: SkyBody,
	spot: Spot,
	at: EpochMs,
	frame: SkyFrame = frameNear(at),
): { rightAscension: number; declination: number; hourAngle: number } {
	const [x, y, z] = unit(vectorOfDate(body, spot, at, frame));
	const rightAscension = turn(Math.atan2(y, x) * DEG);
	const lst = siderealRad(frame, at) * DEG + spot.longitude;
	return {
		rightAscension,
		declination: Math.asin(Math.max(-1, Math.min(1, z))) * DEG,
		hourAngle: halfTurn(lst - rightAscension),
	};
}

/** A direction at a stand as hour angle and declination, radians: refraction taken off. */
export interface HourPlace {
	readonly hourAngleRad: number;
	readonly declinationRad: number;
}

/** Of an apparent direction, degrees. */
export function hourPlaceOf(spot: Spot, { azimuth, altitude }: Direction): HourPlace {
	const [east, north, up] = toVector({ azimuth, altitude: trueAltitude(altitude, spot.air) });
	const s = Math.sin(spot.latitude * RAD);
	const c = Math.cos(spot.latitude * RAD);
	const meridian = c * up - s * north;
	return {
		hourAngleRad: Math.atan2(-east, meridian),
		declinationRad: Math.asin(Math.max(-1, Math.min(1, s * up + c * north))),
	};
}

/** A vector scaled to unit length and turned to (east, north, up). */
export const localUnit = (body: SkyBody, spot: Spot, at: EpochMs): Vector => {
	const frame = frameNear(at);
	return times(
		toLocal(unit(vectorOfDate(body, spot, at, frame)), siderealRad(frame, at) + spot.longitude * RAD, spot.latitude),
		1,
	);
};
