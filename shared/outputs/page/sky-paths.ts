/**
 * Where things of the sky are drawn on the panorama at an instant: bearing across, altitude up. The page's script moves
 * them with the same functions that drew them.
 */
import { rememberedBy } from "../../memory/memory.ts";
import { type Direction, toDirection, toLocal, toVector } from "../../sky/horizontal.ts";
import { apparentAltitude } from "../../sky/refraction.ts";
import { fromAngles, halfTurn, plus, RAD, unit, type Vector } from "../../sky/vector.ts";

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

/** A number to one digit, as text. Whole numbers are written several times as fast as others, and a sky has ten thousand. */
export function oneDigit(value: number): string {
	const tenths = Math.round(value * 10);
	const rest = tenths % 10;
	if (rest === 0) return `${tenths / 10}`;
	return tenths < 0 ? `-${(rest - tenths) / 10}.${-rest}` : `${(tenths - rest) / 10}.${rest}`;
}

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
 * An area of sky as the path of its quarters, whose sides are bent as the strip bends them. What crosses the picture's
 * seam is drawn at both of its ends, for a clip to cut; what has the zenith in it goes all the way round below the top.
 */
export function areaAt(frame: PanoramaFrame, { ends, links }: SkyArea, at: number): string {
	const { width } = frame;
	const seen = seenAll(ends, frame, at);
	const [xs, ys]: [number[], number[]] = [[], []];
	let path = "";
	for (let i = 0; i < links.length; i += 2) {
		const [one, other] = [4 * (links[i] ?? 0), 4 * (links[i + 1] ?? 0)];
		const order = [one, other, other + 2, one + 2];
		if (order.every((k) => (seen[k + 1] ?? 0) < -BELOW)) continue;
		xs.length = ys.length = 0;
		// Bearings run on from corner to corner; round the zenith they come back by a whole turn.
		let bearing = seen[one] ?? 0;
		let x = xOf(frame, bearing);
		const goTo = (next: number): void => {
			x += halfTurn(next - bearing) * frame.scale;
			bearing = next;
		};
		for (let n = 0; n < 4; n++) {
			const [k, next] = [order[n] ?? one, order[(n + 1) % 4] ?? one];
			xs.push(x);
			ys.push(yOf(frame, seen[k + 1] ?? 0));
			for (const between of wayBetween(seen, k, next)) {
				goTo(between[0]);
				xs.push(x);
				ys.push(yOf(frame, between[1]));
			}
			goTo(seen[next] ?? 0);
		}
		const [first = 0] = xs;
		if (Math.abs(x - first) > width / 2) {
			xs.push(x, x, first);
			ys.push(ys[0] ?? 0, yOf(frame, 90), yOf(frame, 90));
		}
		const [left, right] = [Math.min(...xs), Math.max(...xs)];
		for (let by = width * Math.floor(-left / width) + width; by + right > 0; by -= width) {
			if (by + left >= width) continue;
			for (let n = 0; n < xs.length; n++)
				path += `${n === 0 ? "M" : "L"}${oneDigit((xs[n] ?? 0) + by)} ${oneDigit(ys[n] ?? 0)}`;
			path += "Z";
		}
	}
	return path;
}

type Seen = readonly [bearing: number, altitude: number];

/** Degrees of bearing that a line is drawn straight over: near the zenith a short way turns far. */
const STRAIGHT = 10;
/** Halvings at most: a way of 15° is then in parts of some hundredths. */
const FINEST = 9;

/**
 * What is between two directions on the great circle, so close that each part is all but straight on the strip. `seen`:
 * bearing and altitude in turn; `one`, `other`: places in it.
 */
function wayBetween(seen: ArrayLike<number>, one: number, other: number): readonly Seen[] {
	const [bearing, next] = [seen[one] ?? 0, seen[other] ?? 0];
	if (Math.abs(halfTurn(next - bearing)) <= STRAIGHT) return [];
	const [from, to]: [Seen, Seen] = [
		[bearing, seen[one + 1] ?? 0],
		[next, seen[other + 1] ?? 0],
	];
	return halved(from, to, upright(from), upright(to), FINEST);
}

function halved(from: Seen, to: Seen, start: Vector, end: Vector, finest: number): readonly Seen[] {
	if (finest === 0 || Math.abs(halfTurn(to[0] - from[0])) <= STRAIGHT) return [];
	const middle = unit(plus(start, end));
	const { azimuth, altitude } = toDirection(middle);
	const between: Seen = [azimuth, altitude];
	return [
		...halved(from, between, start, middle, finest - 1),
		between,
		...halved(between, to, middle, end, finest - 1),
	];
}

const upright = ([azimuth, altitude]: Seen): Vector => toVector({ azimuth, altitude });

/** Lines between places of the sky, as one path: each list has right ascension and declination in turn. */
export function linesAt(frame: PanoramaFrame, lines: readonly (readonly number[])[], at: number): string {
	let path = "";
	for (const line of lines) {
		const seen = seenAll(line, frame, at);
		let run: Direction[] = [];
		for (let i = 0; i < seen.length; i += 2) {
			const altitude = seen[i + 1] ?? 0;
			if (altitude > -2) run.push({ azimuth: seen[i] ?? 0, altitude });
			else {
				path += openPath(frame, run);
				run = [];
			}
		}
		path += openPath(frame, run);
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
export const outlineOf = (frame: PanoramaFrame, directions: readonly Direction[]): string =>
	openPath(frame, [...directions, ...directions.slice(0, 1)]);

/** The same from the first to the last. */
export function openPath(frame: PanoramaFrame, directions: readonly Direction[]): string {
	let path = "";
	let before: Seen | undefined;
	for (const { azimuth, altitude } of directions) {
		const here: Seen = [azimuth, altitude];
		for (const next of before ? [...wayBetween([...before, ...here], 0, 2), here] : [here]) {
			path += before ? stepTo(frame, before, next) : "M";
			path += `${oneDigit(xOf(frame, next[0]))} ${oneDigit(yOf(frame, next[1]))}`;
			before = next;
		}
	}
	return path;
}

/** What goes before the next place of a line: over the seam it goes on beyond one end, and comes in from beyond the other. */
function stepTo(frame: PanoramaFrame, from: Seen, to: Seen): string {
	const [x0, x] = [xOf(frame, from[0]), xOf(frame, to[0])];
	const over = Math.round((x - x0) / frame.width) * frame.width;
	if (over === 0) return "L";
	return `L${oneDigit(x - over)} ${oneDigit(yOf(frame, to[1]))}M${oneDigit(x0 + over)} ${oneDigit(yOf(frame, from[1]))}L`;
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
