/**
 * Where things of the sky are drawn on the panorama at an instant: bearing across, altitude up. The page's script moves
 * them with the same functions that drew them.
 */
import { rememberedBy } from "../../memory/memory.ts";
import { toDirection, toLocal } from "../../sky/horizontal.ts";
import { apparentAltitude } from "../../sky/refraction.ts";
import { fromAngles, halfTurn, RAD } from "../../sky/vector.ts";

/** What the drawing needs to know of the stand and the picture. */
export interface PanoramaFrame {
	/** Geodetic latitude, degrees. */
	readonly latitude: number;
	/** Local apparent sidereal time at `at`, degrees, and how fast it grows, degrees a millisecond. */
	readonly sidereal: number;
	readonly siderealRate: number;
	readonly at: number;
	readonly pressure: number;
	readonly temperature: number;
	/** Bearing in the middle of the picture. */
	readonly centre: number;
	/** Pixels a degree. */
	readonly scale: number;
	readonly width: number;
	/** Pixels from the top to altitude 0. */
	readonly horizon: number;
}

/** A place of date: right ascension and declination, degrees. */
export type SkyPlace = readonly [rightAscension: number, declination: number];

export const xOf = ({ centre, scale, width }: PanoramaFrame, bearing: number): number =>
	width / 2 + halfTurn(bearing - centre) * scale;
/** Pixels from the top for an altitude in degrees. */
export const yOf = ({ horizon, scale }: PanoramaFrame, altitude: number): number => horizon - altitude * scale;

/** Where a place of date is seen at an instant: bearing and apparent altitude. */
export function seenAt(
	frame: PanoramaFrame,
	[rightAscension, declination]: SkyPlace,
	at: number,
): { azimuth: number; altitude: number } {
	const lst = (frame.sidereal + (at - frame.at) * frame.siderealRate) * RAD;
	const { azimuth, altitude } = toDirection(
		toLocal(fromAngles(rightAscension * RAD, declination * RAD), lst, frame.latitude),
	);
	return { azimuth, altitude: apparentAltitude(altitude, frame) };
}

const oneDigit = (value: number): string => String(Math.round(value * 10) / 10);

/** `x,y` of a place, for a mark that is moved; far off the picture when it is below −5°. */
export function markAt(frame: PanoramaFrame, place: SkyPlace, at: number): string {
	const { azimuth, altitude } = seenAt(frame, place, at);
	return altitude < -5 ? "-999,-999" : `${oneDigit(xOf(frame, azimuth))},${oneDigit(yOf(frame, altitude))}`;
}

/** An area of the sky: ends of stretches, two places each in turn, and which two stretches have the area between them. */
export interface SkyArea {
	/** Right ascension and declination of date of one end and of the other, in turn, degrees. */
	readonly ends: readonly number[];
	/** Places of two stretches, in turn. */
	readonly links: readonly number[];
}

/**
 * Where places of date are seen at an instant. `places`: right ascension and declination in turn; bearing and apparent
 * altitude in turn, degrees. View and chart ask for the same ones.
 */
export const seenAll = rememberedBy(seenPlaces, 1);

function seenPlaces(places: readonly number[], frame: PanoramaFrame, at: number): Float64Array {
	const lst = (frame.sidereal + (at - frame.at) * frame.siderealRate) * RAD;
	const [sinLatitude, cosLatitude] = [Math.sin(frame.latitude * RAD), Math.cos(frame.latitude * RAD)];
	const found = new Float64Array(places.length);
	for (let i = 0; i < places.length; i += 2) {
		const declination = (places[i + 1] ?? 0) * RAD;
		const hourAngle = lst - (places[i] ?? 0) * RAD;
		const [sin, cos] = [Math.sin(declination), Math.cos(declination)];
		const meridian = cos * Math.cos(hourAngle);
		const up = sinLatitude * sin + cosLatitude * meridian;
		const azimuth = Math.atan2(-cos * Math.sin(hourAngle), cosLatitude * sin - sinLatitude * meridian) / RAD;
		const altitude = Math.asin(Math.min(1, Math.max(-1, up))) / RAD;
		found[i] = azimuth;
		found[i + 1] = altitude < -2 ? altitude : apparentAltitude(altitude, frame);
	}
	return found;
}

/** The same as places on the picture. */
function placesAt(frame: PanoramaFrame, places: readonly number[], at: number): Float64Array {
	const found = seenAll(places, frame, at);
	const drawn = new Float64Array(found.length);
	for (let i = 0; i < found.length; i += 2) {
		drawn[i] = xOf(frame, found[i] ?? 0);
		drawn[i + 1] = yOf(frame, found[i + 1] ?? 0);
	}
	return drawn;
}

/** Degrees below the horizon from which on nothing is drawn. */
const BELOW = 8;

/**
 * An area of sky as the path of its quarters. What crosses the picture's seam is drawn at both of its ends, for a clip to
 * cut; what goes over the zenith, which has no one bearing, is left out.
 */
export function areaAt(frame: PanoramaFrame, { ends, links }: SkyArea, at: number): string {
	const { width } = frame;
	const places = placesAt(frame, ends, at);
	const lowest = yOf(frame, -BELOW);
	let path = "";
	for (let i = 0; i < links.length; i += 2) {
		const [one, other] = [4 * (links[i] ?? 0), 4 * (links[i + 1] ?? 0)];
		const order = [one, other, other + 2, one + 2];
		if (order.every((k) => (places[k + 1] ?? 0) > lowest)) continue;
		const first = places[one] ?? 0;
		const xs = order.map((k) => (places[k] ?? 0) + Math.round((first - (places[k] ?? 0)) / width) * width);
		const [left, right] = [Math.min(...xs), Math.max(...xs)];
		if (right - left > width / 3) continue;
		for (let by = left < 0 ? width : 0; right + by > 0 && by >= (right > width ? -width : 0); by -= width)
			path += `M${order.map((k, n) => `${oneDigit((xs[n] ?? 0) + by)} ${oneDigit(places[k + 1] ?? 0)}`).join("L")}Z`;
	}
	return path;
}

/** Lines between places of the sky, as one path: each list has right ascension and declination in turn. */
export function linesAt(frame: PanoramaFrame, lines: readonly (readonly number[])[], at: number): string {
	const horizon = yOf(frame, -2);
	let path = "";
	for (const line of lines) {
		const places = placesAt(frame, line, at);
		let isOn = false;
		for (let i = 0; i < places.length; i += 2) {
			const [x, y] = [places[i] ?? 0, places[i + 1] ?? 0];
			const isUp = y < horizon;
			const step = isOn ? stepTo(frame, [places[i - 2] ?? 0, places[i - 1] ?? 0], x, y) : "M";
			if (isUp) path += `${step}${oneDigit(x)} ${oneDigit(y)}`;
			isOn = isUp;
		}
	}
	return path;
}

/** The Sun's glow in twilight, 0 … 1: none from 18° below the horizon on, all of it at the horizon. Our own scale. */
export const glowAt = (sunAltitude: number): number =>
	Math.round(Math.min(1, Math.max(0, 1 + sunAltitude / 18)) * 100) / 100;

/** Dots of stars as one path: each a line of no length, whose round ends are the dot. `places`: right ascension and declination in turn. */
export function starsAt(frame: PanoramaFrame, places: readonly number[], at: number): string {
	const seen = placesAt(frame, places, at);
	const lowest = yOf(frame, -1);
	let path = "";
	for (let i = 0; i < seen.length; i += 2) {
		const y = seen[i + 1] ?? 0;
		if (y < lowest) path += `M${oneDigit(seen[i] ?? 0)} ${oneDigit(y)}h0`;
	}
	return path;
}

/** The lit part of a Moon's disc whose lit side points straight up. `lit`: 0 … 1. */
export function moonShape(radius: number, lit: number): string {
	const bulge = Math.round(radius * Math.abs(1 - 2 * lit) * 100) / 100;
	return `M${-radius} 0A${radius} ${radius} 0 0 1 ${radius} 0A${radius} ${bulge} 0 0 ${lit < 0.5 ? 0 : 1} ${-radius} 0Z`;
}

/** Where the Moon's lit side points to at an instant: at the known moment next to it. */
export function tiltAt(
	points: readonly (readonly [at: number, azimuth: number, altitude: number])[],
	tilts: readonly number[],
	at: number,
): number {
	const after = points.findIndex(([t]) => t >= at);
	return tilts[after < 0 ? tilts.length - 1 : after] ?? 0;
}

/** A closed outline of places, such as a frame's edge, cut where it crosses the picture's seam. */
export function outlineAt(frame: PanoramaFrame, places: readonly SkyPlace[], at: number): string {
	return outlineOf(
		frame,
		places.map((place) => seenAt(frame, place, at)),
	);
}

/** A closed SVG path through directions; where it leaves the strip at one end and comes in at the other, both ends are there for a clip to cut. */
export const outlineOf = (frame: PanoramaFrame, directions: readonly { azimuth: number; altitude: number }[]): string =>
	openPath(frame, [...directions, ...directions.slice(0, 1)]);

/** The same from the first to the last. */
export function openPath(frame: PanoramaFrame, directions: readonly { azimuth: number; altitude: number }[]): string {
	let path = "";
	let before: readonly [x: number, y: number] | undefined;
	for (const { azimuth, altitude } of directions) {
		const [x, y] = [xOf(frame, azimuth), yOf(frame, altitude)];
		path += `${before ? stepTo(frame, before, x, y) : "M"}${oneDigit(x)} ${oneDigit(y)}`;
		before = [x, y];
	}
	return path;
}

/** What goes before the next place of a line: over the seam it goes on beyond one end, and comes in from beyond the other. */
function stepTo({ width }: PanoramaFrame, [x0, y0]: readonly [number, number], x: number, y: number): string {
	const over = Math.round((x - x0) / width) * width;
	// What goes by the zenith, which has no one bearing, is left out.
	if (Math.abs(x - over - x0) > width / 3) return "M";
	return over === 0 ? "L" : `L${oneDigit(x - over)} ${oneDigit(y)}M${oneDigit(x0 + over)} ${oneDigit(y0)}L`;
}

/**
 * Areas whose corners' bearings run on, as one path: where they overlap an even number of times nothing is filled. Each
 * is drawn on every turn of the strip that it reaches into; a clip cuts off the rest.
 */
export function areasOf(
	frame: PanoramaFrame,
	areas: readonly (readonly (readonly [bearing: number, altitude: number])[])[],
): string {
	const left = frame.centre - frame.width / 2 / frame.scale;
	const right = frame.centre + frame.width / 2 / frame.scale;
	return areas
		.map((corners) => {
			const bearings = corners.map(([bearing]) => bearing);
			const [from, until] = [Math.min(...bearings), Math.max(...bearings)];
			let path = "";
			for (let by = 360 * Math.ceil((left - until) / 360); from + by <= right; by += 360)
				path += `M${corners.map(([bearing, altitude]) => `${oneDigit((bearing + by - left) * frame.scale)} ${oneDigit(yOf(frame, altitude))}`).join("L")}Z`;
			return path;
		})
		.join("");
}

/** A place between known ones, for the Sun, the Moon and planets: points of time, bearing, altitude, in order. */
export function between(
	points: readonly (readonly [at: number, azimuth: number, altitude: number])[],
	at: number,
): { azimuth: number; altitude: number } | undefined {
	for (let i = 1; i < points.length; i++) {
		const [t0, a0, h0] = points[i - 1] as (typeof points)[number];
		const [t1, a1, h1] = points[i] as (typeof points)[number];
		if (at < t0 || at > t1) continue;
		const share = t1 === t0 ? 0 : (at - t0) / (t1 - t0);
		return { azimuth: a0 + halfTurn(a1 - a0) * share, altitude: h0 + (h1 - h0) * share };
	}
	return undefined;
}
