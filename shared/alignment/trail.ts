/**
 * How far stars trail on a frame: exactly, by turning the sky and the camera, in the lens's own projection, for nine
 * stars of the frame that stand above the skyline, with refraction.
 *
 * The sky turns about the pole by −ωt. A tracker at a rate k turns the camera about its axis by −kωt. In the camera's
 * frame a star is then at R(axis, kωt) · R(pole, −ωt) of where it was: for k = 1 and an axis off by e, a turn by
 * Φ = 4 asin(sin(e/2) sin(ωt/2)), about e·ωt, about an axis on the equator. Small-angle bound: e · ω · t.
 */

import { type Camera, pixelScaleArcsec, pointOf, rayOf } from "../optics/camera.ts";
import { SKY_RATE_RAD } from "../sky/frame.ts";
import { type Direction, toDirection, toVector } from "../sky/horizontal.ts";
import type { Spot } from "../sky/place.ts";
import { apparentAltitude, trueAltitude } from "../sky/refraction.ts";
import { cross, plus, RAD, times, turnAbout, type Vector } from "../sky/vector.ts";
import { type AxisVector, axisVector, type Covariance, ellipseOf } from "./axis-error.ts";

/** A frame that is taken. */
export interface Shot {
	readonly camera: Camera;
	/** Long side upright. */
	readonly vertical: boolean;
	/** Where the middle of the frame looks when the shutter opens, apparent. */
	readonly aim: Direction;
	readonly spot: Spot;
	/** Apparent altitude of the skyline at a bearing: what it hides has no stars to trail. */
	readonly skylineAt: (bearing: number) => number;
	/** Turns of the tracker for one of the sky: 1 sidereal, 0.5 half rate, 0 untracked. */
	readonly rate: number;
	/** Degrees and seconds. */
	readonly periodicError?: { readonly amplitude: number; readonly period: number } | undefined;
}

type Pixels = readonly [right: number, up: number];

/** Displacements over an exposure at the places of the frame, in pixels. */
export interface Trails {
	/** With the axis on the pole: what rate and refraction do. */
	readonly fixed: readonly Pixels[];
	/** What one degree of axis error along, and across, the meridian adds. */
	readonly perAlong: readonly Pixels[];
	readonly perAcross: readonly Pixels[];
	/** Most that the periodic error adds, whatever its phase. */
	readonly periodic: number;
}

/** Columns of the frame at which stars are followed, in half widths. */
const COLUMNS = [-1, 0, 1] as const;
/** Stars nearer the horizon than this are dimmed by the air and thrown about by refraction, degrees. Common practice, no source. */
const LOWEST_STAR = 3;

/**
 * Axis error at which the trails' slopes are taken, degrees. What is left out grows with the square of the error: at
 * most ε²/2 of the sky's turn, 0.1″ in three minutes at 0.5°. It shows only in a long lens beside the residual axis.
 */
const SLOPE_AT = 0.05;

export const trailsOf = (shot: Shot, exposure: number): Trails => trailsOfStars(shot, starsOf(shot), exposure);

/** Trails of stars that are known: they are the same however long the frame is exposed. */
function trailsOfStars(shot: Shot, stars: FrameStars, exposure: number): Trails {
	const fixed = displacements(shot, stars, exposure, { along: 0, across: 0 });
	const slope = (error: AxisVector): readonly Pixels[] =>
		shot.rate === 0
			? fixed.map((): Pixels => [0, 0])
			: displacements(shot, stars, exposure, error).map(([x, y], i): Pixels => {
					const [x0, y0] = fixed[i] as Pixels;
					return [(x - x0) / SLOPE_AT, (y - y0) / SLOPE_AT];
				});
	return {
		fixed,
		perAlong: slope({ along: SLOPE_AT, across: 0 }),
		perAcross: slope({ along: 0, across: SLOPE_AT }),
		periodic: periodicPixels(shot, exposure),
	};
}

/** A star of the frame: where it is on the sensor (millimetres) and in the sky (true place). */
interface FrameStar {
	readonly point: readonly [number, number];
	readonly place: Vector;
}

interface FrameStars {
	readonly basis: readonly [right: Vector, up: Vector, forward: Vector];
	readonly stars: readonly FrameStar[];
}

/**
 * Nine stars of the frame: in the middle and at either side, one at the top, one at the lowest place that shows sky,
 * one half-way. A frame that shows no sky keeps its middle.
 */
function starsOf({ camera, vertical, aim, spot, skylineAt }: Shot): FrameStars {
	const forward = toVector(aim);
	const up = toVector({ azimuth: aim.azimuth, altitude: aim.altitude + 90 });
	const right = cross(forward, up);
	const [width, height] = vertical ? [camera.sensor[1], camera.sensor[0]] : camera.sensor;
	const pointAt = (x: number, y: number): readonly [number, number] => [(x * width) / 2, (y * height) / 2];
	const seenAt = (x: number, y: number): Direction => {
		const [rx, ry, rz] = rayOf(camera, ...pointAt(x, y));
		return toDirection(plus(plus(times(right, rx), times(up, ry)), times(forward, rz)));
	};
	const isSky = (seen: Direction): boolean => seen.altitude >= Math.max(LOWEST_STAR, skylineAt(seen.azimuth));
	const star = (x: number, y: number): FrameStar => {
		const seen = seenAt(x, y);
		return { point: pointAt(x, y), place: toVector({ ...seen, altitude: trueAltitude(seen.altitude, spot.air) }) };
	};
	const stars: FrameStar[] = [];
	for (const x of COLUMNS) {
		if (!isSky(seenAt(x, 1))) continue;
		let lowest = -1;
		if (!isSky(seenAt(x, lowest))) {
			let sky = 1;
			for (let i = 0; i < 16; i++) {
				const middle = (lowest + sky) / 2;
				if (isSky(seenAt(x, middle))) sky = middle;
				else lowest = middle;
			}
			lowest = sky;
		}
		stars.push(star(x, lowest), star(x, (lowest + 1) / 2), star(x, 1));
	}
	return { basis: [right, up, forward], stars: stars.length > 0 ? stars : [star(0, 0)] };
}

function displacements(
	{ camera, spot, rate }: Shot,
	{ basis, stars }: FrameStars,
	exposure: number,
	error: AxisVector,
): readonly Pixels[] {
	const [right, up, forward] = basis;
	const angle = SKY_RATE_RAD * exposure;
	const pole: Vector = [0, Math.cos(spot.latitude * RAD), Math.sin(spot.latitude * RAD)];
	const axis = axisVector(spot.latitude, error);
	const northEnd = spot.latitude >= 0 ? axis : times(axis, -1);
	const pitch = camera.pixelPitch / 1000;
	return stars.map(({ point, place }): Pixels => {
		const later = toDirection(turnAbout(pole, -angle, place));
		const seen = toVector({ ...later, altitude: apparentAltitude(later.altitude, spot.air) });
		const inCamera = turnAbout(northEnd, angle * rate, seen);
		const ray: Vector = [dotOf(right, inCamera), dotOf(up, inCamera), dotOf(forward, inCamera)];
		const moved = pointOf(camera, ray);
		return moved
			? [(moved[0] - point[0]) / pitch, (moved[1] - point[1]) / pitch]
			: [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
	});
}

const dotOf = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** Largest swing of the periodic error between two moments of an exposure: 2A sin(πt/P), and 2A from half a period on. */
function periodicPixels({ camera, periodicError, rate }: Shot, exposure: number): number {
	if (!periodicError || rate === 0) return 0;
	const { amplitude, period } = periodicError;
	const swing = exposure >= period / 2 ? 2 * amplitude : 2 * amplitude * Math.sin((Math.PI * exposure) / period);
	return (swing * 3600) / pixelScaleArcsec(camera);
}

/** Longest trail on the frame for an axis error, pixels. */
export function trailFor({ fixed, perAlong, perAcross, periodic }: Trails, { along, across }: AxisVector): number {
	let worst = 0;
	for (let i = 0; i < fixed.length; i++) {
		const [x, y] = fixed[i] as Pixels;
		const [ax, ay] = perAlong[i] as Pixels;
		const [cx, cy] = perAcross[i] as Pixels;
		worst = Math.max(worst, Math.hypot(x + along * ax + across * cx, y + along * ay + across * cy));
	}
	return worst + periodic;
}

const worstOf = (moved: readonly Pixels[]): number => Math.max(0, ...moved.map(([x, y]) => Math.hypot(x, y)));

/** Directions over which the ellipse is walked. */
const WALK = 32;

const WALKED: readonly (readonly [cos: number, sin: number])[] = Array.from({ length: WALK }, (_, k) => {
	const beta = (2 * Math.PI * (k + 0.5)) / WALK;
	return [Math.cos(beta), Math.sin(beta)];
});

/**
 * How many standard deviations of axis error fit, in direction `k` of the whitened error plane, before a trail is
 * longer than `limit`; negative when it is longer without any.
 */
function roomIn(
	k: number,
	{ fixed, perAlong, perAcross, periodic }: Trails,
	{ major, minor, cos, sin }: Whitened,
	limit: number,
): number {
	const left = limit - periodic;
	if (left < 0) return -1;
	const [cosBeta, sinBeta] = WALKED[k] as readonly [number, number];
	const [a, b] = [major * cosBeta, minor * sinBeta];
	const along = a * cos - b * sin;
	const across = a * sin + b * cos;
	let room = Number.POSITIVE_INFINITY;
	for (let i = 0; i < fixed.length; i++) {
		const [x, y] = fixed[i] as Pixels;
		const alongBy = perAlong[i] as Pixels;
		const acrossBy = perAcross[i] as Pixels;
		const vx = along * alongBy[0] + across * acrossBy[0];
		const vy = along * alongBy[1] + across * acrossBy[1];
		// |fixed + ρ v| = left, solved for ρ ≥ 0.
		const c0 = x * x + y * y - left * left;
		if (!(c0 <= 0)) return -1;
		const vv = vx * vx + vy * vy;
		if (vv === 0) continue;
		const half = x * vx + y * vy;
		room = Math.min(room, (-half + Math.sqrt(half * half - vv * c0)) / vv);
	}
	return room;
}

interface Whitened {
	readonly major: number;
	readonly minor: number;
	readonly cos: number;
	readonly sin: number;
}

function whitened(covariance: Covariance): Whitened {
	const { major, minor, tilt } = ellipseOf(covariance);
	return { major, minor, cos: Math.cos(tilt * RAD), sin: Math.sin(tilt * RAD) };
}

/**
 * Chance that no star of the frame trails by more than `limit` pixels, for an axis error of a covariance about zero.
 * In whitened polar coordinates the radius is Rayleigh-distributed: the chance is the mean of 1 − exp(−ρ²/2) over
 * directions, ρ the room in each.
 */
export function chanceWithin(trails: Trails, covariance: Covariance, limit: number): number {
	const spread = whitened(covariance);
	let sum = 0;
	for (let k = 0; k < WALK; k++) {
		const room = roomIn(k, trails, spread, limit);
		if (room > 0) sum += 1 - Math.exp((-room * room) / 2);
	}
	return sum / WALK;
}

/** Trail that is not passed with a chance `share`, pixels, to a part `within` of it. */
export function trailQuantile(trails: Trails, covariance: Covariance, share: number, within = 1e-4): number {
	const still = trailFor(trails, { along: 0, across: 0 });
	let [low, high] = [0, Math.max(1, still * 2)];
	while (chanceWithin(trails, covariance, high) < share && high < 1e7) high *= 2;
	for (let i = 0; i < 40 && high - low > within * high; i++) {
		const middle = (low + high) / 2;
		if (chanceWithin(trails, covariance, middle) < share) low = middle;
		else high = middle;
	}
	return (low + high) / 2;
}

/** Axis error, in the worst direction, at which a trail reaches `limit` pixels, degrees; negative when it is longer without any. */
export function axisErrorAllowed(trails: Trails, limit: number): number {
	let least = Number.POSITIVE_INFINITY;
	for (let k = 0; k < WALK; k++)
		least = Math.min(least, roomIn(k, trails, { major: 1, minor: 1, cos: 1, sin: 0 }, limit));
	return least;
}

/**
 * How far the field turns about the middle of the frame over an exposure, one standard deviation, degrees: the residual
 * turn's part along the line of sight. To first order the residual turn is ωt times the axis error as a vector, so that
 * a frame at declination δ turns by ωt · e · cos δ for an error toward it.
 */
export function fieldRotation({ spot, aim, rate }: Shot, covariance: Covariance, exposure: number): number {
	if (rate === 0) return 0;
	const forward = toVector(aim);
	const up = axisVector(spot.latitude, { along: 90, across: 0 });
	const clockwise = axisVector(spot.latitude, { along: 0, across: 90 });
	const [a, c] = [dotOf(forward, up), dotOf(forward, clockwise)];
	const variance = a * a * covariance.alongAlong + 2 * a * c * covariance.alongAcross + c * c * covariance.acrossAcross;
	return SKY_RATE_RAD * exposure * rate * Math.sqrt(Math.max(0, variance));
}

/** Chance a limit is wanted for when the plan does not say. */
export const WANTED_CHANCE = 0.9;
const LONGEST_EXPOSURE = 4 * 3600;

/** Longest exposure at which trails stay within `limit` pixels with a chance `share`, seconds, at most 4 h. */
export function longestExposure(
	shot: Shot,
	covariance: Covariance,
	limit: number,
	share: number = WANTED_CHANCE,
): number {
	const stars = starsOf(shot);
	return longest((exposure) => chanceWithin(trailsOfStars(shot, stars, exposure), covariance, limit) >= share, guess());

	/** Trails grow nearly in proportion to the exposure, so that one frame tells where to look. */
	function guess(): number {
		const at = 60;
		const trail = trailQuantile(
			trailsOfStars({ ...shot, periodicError: undefined }, stars, at),
			covariance,
			share,
			0.01,
		);
		return trail > 0 ? (at * limit) / trail : LONGEST_EXPOSURE;
	}
}

/** Longest untracked exposure at which no star of the frame moves by more than `limit` pixels, seconds. */
export const longestUntracked = (shot: Shot, limit: number): number => longestOnPole({ ...shot, rate: 0 }, limit);

/** Longest exposure at which, with the axis on the pole, no star of the frame trails by more than `limit` pixels, seconds. */
export function longestOnPole(shot: Shot, limit: number): number {
	const at = 10;
	const stars = starsOf(shot);
	const onPole = { along: 0, across: 0 };
	// The axis is where it should be: what an error of it adds does not count.
	const trailAt = (exposure: number): number =>
		worstOf(displacements(shot, stars, exposure, onPole)) + periodicPixels(shot, exposure);
	const trail = trailAt(at);
	return longest(
		(exposure) => trailAt(exposure) <= limit,
		trail > 0 && trail < Number.POSITIVE_INFINITY ? (at * limit) / trail : LONGEST_EXPOSURE,
	);
}

/** The last exposure that holds, near a guess: to 0.1 % or a tenth of a second. */
function longest(holds: (exposure: number) => boolean, guess: number): number {
	let low = Math.min(Math.max(guess, 0.01), LONGEST_EXPOSURE) * 0.97;
	let high = Math.min(low / 0.94, LONGEST_EXPOSURE);
	for (let i = 0; i < 40 && !holds(low); i++) {
		high = low;
		low /= i < 2 ? 1.15 : 2;
		if (low < 0.005) return 0;
	}
	for (let i = 0; i < 40 && holds(high); i++) {
		low = high;
		if (high >= LONGEST_EXPOSURE) return LONGEST_EXPOSURE;
		high = Math.min(high * (i < 2 ? 1.15 : 2), LONGEST_EXPOSURE);
	}
	while (high - low > Math.max(0.001 * low, 0.002)) {
		const middle = (low + high) / 2;
		if (holds(middle)) low = middle;
		else high = middle;
	}
	return low;
}
