/**
 * How far stars trail on a frame: exactly, by turning the sky and the camera, in the lens's own projection, with
 * refraction, for the stars of `frame-stars.ts`.
 *
 * The sky turns about the pole by −ωt. A tracker at a rate k turns the camera about its axis by −kωt. In the camera's
 * frame a star is then at R(axis, kωt) · R(pole, −ωt) of where it was: for k = 1 and an axis off by e, a turn by
 * Φ = 4 asin(sin(e/2) sin(ωt/2)), about e·ωt, about an axis on the equator. Small-angle bound: e · ω · t.
 *
 * In the axis error the displacement is taken to second order: an axis at an angle e from the pole is cos e along the
 * pole and sin e across it, so that beside the part that grows with e the camera lags about the pole by (1 − cos e) kωt.
 */

import { type Camera, pixelScaleArcsec, pointScale } from "../optics/camera.ts";
import { SKY_RATE_RAD } from "../sky/frame.ts";
import { apparentAltitude } from "../sky/refraction.ts";
import { cross, DEG, dot, RAD, times, type Vector } from "../sky/vector.ts";
import { northPole } from "./attitude.ts";
import { type AxisVector, axisVector, type Covariance, NO_BIAS } from "./axis-error.ts";
import type { Frame, FrameStar } from "./frame-stars.ts";
import { NO_SWINGS, type Swings, swingsOf, widestSwing, widestSwings } from "./periodic-error.ts";

/** How an axis error is spread: about an expected one, if there is one. Degrees. */
export interface AxisSpread {
	readonly covariance: Covariance;
	readonly bias?: AxisVector;
}

/** An axis that lies on the pole for certain. */
export const ON_POLE: AxisSpread = { covariance: { alongAlong: 0, alongAcross: 0, acrossAcross: 0 } };

/**
 * Displacements of a frame's stars over an exposure, in pixels as far as each star counts: right and up, one after the
 * other.
 */
export interface Trails {
	readonly frame: Frame;
	/** Seconds. */
	readonly exposure: number;
	/** With the axis on the pole: what rate and refraction do. */
	readonly fixed: Float64Array;
	/** What one degree of axis error along, and across, the meridian adds. */
	readonly perAlong: Float64Array;
	readonly perAcross: Float64Array;
	/** What a lag of the whole turn adds: times 1 − cos e the second order of an axis error e. */
	readonly lag: Float64Array;
	/** What one degree of the drive adds. */
	readonly perDrive: Float64Array;
	/** The drive's ways over the exposure, for each of its phases. */
	readonly swings: Swings;
}

/** Axis error and turn of the drive at which the slopes are taken, degrees. */
const SLOPE_AT = 0.05;

/** The trails of a frame's stars over an exposure in seconds; `phases` of the drive, where not all are wanted. */
export function trailsOf(frame: Frame, exposure: number, phases?: number): Trails {
	const { shot, stars } = frame;
	const { rate, spot, camera, periodicError } = shot;
	const turned = rate * SKY_RATE_RAD * exposure;
	const seen = seenAfter(frame, exposure);
	const still = (axis: Vector, angle: number): Float64Array => pointsOf(frame, seen, axis, angle);
	const pole = northPole(spot.latitude);
	const pitch = camera.pixelPitch / 1000;
	const fixed = still(pole, turned);
	const slope = (moved: Float64Array, by: number): Float64Array => {
		for (let i = 0; i < moved.length; i++) {
			const change = (((moved[i] as number) - (fixed[i] as number)) / by / pitch) * (stars[i >> 1]?.weight ?? 0);
			// A star that leaves the lens's projection is lost already.
			moved[i] = Number.isFinite(change) ? change : 0;
		}
		return moved;
	};
	const none = (): Float64Array => new Float64Array(2 * stars.length);
	const off = (error: AxisVector): Vector => {
		const axis = axisVector(spot.latitude, error);
		return spot.latitude >= 0 ? axis : times(axis, -1);
	};
	const isTracked = rate !== 0;
	const perDrive = isTracked ? slope(still(pole, turned + SLOPE_AT * RAD), SLOPE_AT) : none();
	const lag = perDrive.map((one) => -one * turned * DEG);
	// The slopes hold the second order at that error, which is taken out again.
	const second = (1 - Math.cos(SLOPE_AT * RAD)) / SLOPE_AT;
	const straight = (slopes: Float64Array): Float64Array => slopes.map((one, i) => one - (lag[i] as number) * second);
	const perAlong = isTracked ? straight(slope(still(off({ along: SLOPE_AT, across: 0 }), turned), SLOPE_AT)) : none();
	const perAcross = isTracked ? straight(slope(still(off({ along: 0, across: SLOPE_AT }), turned), SLOPE_AT)) : none();
	for (let i = 0; i < stars.length; i++) {
		const { point, weight } = stars[i] as FrameStar;
		fixed[2 * i] = weight === 0 ? 0 : (((fixed[2 * i] as number) - point[0]) / pitch) * weight;
		fixed[2 * i + 1] = weight === 0 ? 0 : (((fixed[2 * i + 1] as number) - point[1]) / pitch) * weight;
	}
	return {
		frame,
		exposure,
		fixed,
		perAlong,
		perAcross,
		lag,
		perDrive,
		swings: isTracked && periodicError ? swingsOf(periodicError, exposure, phases) : NO_SWINGS,
	};
}

/** Where the stars are seen after an exposure: unit vectors (east, north, up), one after the other. */
function seenAfter({ shot: { spot }, stars }: Frame, exposure: number): Float64Array {
	const pole = northPole(spot.latitude);
	const [cos, sin] = [Math.cos(SKY_RATE_RAD * exposure), Math.sin(-SKY_RATE_RAD * exposure)];
	const seen = new Float64Array(3 * stars.length);
	for (let i = 0; i < stars.length; i++) {
		const [x, y, z] = turnedBy(pole, cos, sin, (stars[i] as FrameStar).sky);
		const level = Math.sqrt(x * x + y * y);
		const altitude = apparentAltitude(Math.atan2(z, level) * DEG, spot.air) * RAD;
		const scale = level === 0 ? 0 : Math.cos(altitude) / level;
		seen[3 * i] = x * scale;
		seen[3 * i + 1] = y * scale;
		seen[3 * i + 2] = Math.sin(altitude);
	}
	return seen;
}

/** `v` turned about a unit axis by an angle of known cosine and sine (Rodrigues). */
function turnedBy(axis: Vector, cos: number, sin: number, v: Vector): Vector {
	const along = dot(axis, v) * (1 - cos);
	const [x, y, z] = cross(axis, v);
	return [
		v[0] * cos + x * sin + axis[0] * along,
		v[1] * cos + y * sin + axis[1] * along,
		v[2] * cos + z * sin + axis[2] * along,
	];
}

/** Places of seen stars in a camera that was turned with the sky about an axis: millimetres. */
function pointsOf(
	{ shot: { camera, attitude }, stars }: Frame,
	seen: Float64Array,
	axis: Vector,
	angle: number,
): Float64Array {
	// Instead of the stars against the camera, its three directions are turned with it.
	const [cos, sin] = [Math.cos(angle), Math.sin(-angle)];
	const right = turnedBy(axis, cos, sin, attitude.right);
	const up = turnedBy(axis, cos, sin, attitude.up);
	const forward = turnedBy(axis, cos, sin, attitude.forward);
	const points = new Float64Array(2 * stars.length);
	for (let i = 0; i < stars.length; i++) {
		const east = seen[3 * i] as number;
		const north = seen[3 * i + 1] as number;
		const height = seen[3 * i + 2] as number;
		const x = right[0] * east + right[1] * north + right[2] * height;
		const y = up[0] * east + up[1] * north + up[2] * height;
		const z = forward[0] * east + forward[1] * north + forward[2] * height;
		const scale = pointScale(camera, Math.sqrt(x * x + y * y), z);
		points[2 * i] = Number.isNaN(scale) ? Number.POSITIVE_INFINITY : x * scale;
		points[2 * i + 1] = Number.isNaN(scale) ? Number.POSITIVE_INFINITY : y * scale;
	}
	return points;
}

/** Displacements over the exposure for an axis error, without the drive's: pixels right and up for each star. */
export function displacementsFor(trails: Trails, error: AxisVector): readonly (readonly [number, number])[] {
	const { frame, fixed, perAlong, perAcross, lag } = trails;
	const { along, across } = error;
	const second = secondOf(error);
	const at = (i: number): number =>
		(fixed[i] as number) +
		along * (perAlong[i] as number) +
		across * (perAcross[i] as number) +
		second * (lag[i] as number);
	return frame.stars.map((_, i) => [at(2 * i), at(2 * i + 1)] as const);
}

/** What the second order of an axis error takes of the lag. */
const secondOf = ({ along, across }: AxisVector): number => 1 - Math.cos(Math.hypot(along, across) * RAD);

/** Longest trail on the frame for an axis error, without the drive's, pixels. */
export function trailFor({ fixed, perAlong, perAcross, lag }: Trails, { along, across }: AxisVector): number {
	const second = 1 - Math.cos(Math.sqrt(along * along + across * across) * RAD);
	let most = 0;
	for (let i = 0; i < fixed.length; i += 2) {
		const x =
			(fixed[i] as number) +
			along * (perAlong[i] as number) +
			across * (perAcross[i] as number) +
			second * (lag[i] as number);
		const y =
			(fixed[i + 1] as number) +
			along * (perAlong[i + 1] as number) +
			across * (perAcross[i + 1] as number) +
			second * (lag[i + 1] as number);
		most = Math.max(most, x * x + y * y);
	}
	return Math.sqrt(most);
}

/** Longest trail that the drive's periodic error makes by itself, pixels: for each of its phases in turn. */
export function driveTrails(trails: Trails): Float64Array {
	const most = mostPerDrive(trails);
	return widestSwings(trails.swings).map((drive) => most * drive);
}

/** The same on all frames but a share, pixels. */
export const driveTrail = (trails: Trails, share: number): number =>
	mostPerDrive(trails) * widestSwing(trails.swings, share);

/** The longest trail that one degree of the drive makes, pixels. */
function mostPerDrive({ perDrive }: Trails): number {
	let most = 0;
	for (let i = 0; i < perDrive.length; i += 2)
		most = Math.max(most, Math.hypot(perDrive[i] as number, perDrive[i + 1] as number));
	return most;
}

/** Trail in the middle of the frame for an axis error, without the drive's, pixels; undefined where no sky is seen there. */
export function trailAtCentre(trails: Trails, error: AxisVector): number | undefined {
	const weight = trails.frame.stars[0]?.weight ?? 0;
	if (weight === 0) return undefined;
	const [x, y] = displacementsFor(trails, error)[0] ?? [0, 0];
	return Math.hypot(x, y) / weight;
}

/** What makes a star's trail, each by itself: root mean squares, pixels as far as the star counts. */
export interface TrailParts {
	readonly star: FrameStar;
	/** What rate and refraction do. */
	readonly fixed: number;
	readonly axis: number;
	readonly drive: number;
	readonly whole: number;
}

/** The star of a frame whose trail is longest in the root mean square over a spread of axis errors and the drive's phases. */
export function worstStar(trails: Trails, { covariance, bias = NO_BIAS }: AxisSpread): TrailParts {
	const { frame, fixed, perAlong, perAcross, perDrive, lag, swings } = trails;
	const { alongAlong, alongAcross, acrossAcross } = covariance;
	const widest = widestSwings(swings);
	let swing = 0;
	for (let k = 0; k < widest.length; k++) swing += (widest[k] as number) ** 2;
	swing /= widest.length;
	const second = secondOf(bias);
	const worst = { star: frame.stars[0] as FrameStar, fixed: 0, axis: 0, drive: 0, whole: -1 };
	for (let i = 0; i < frame.stars.length; i++) {
		let [still, axis, drive, whole] = [0, 0, 0, 0];
		for (let at = 2 * i; at < 2 * i + 2; at++) {
			const f = fixed[at] as number;
			const a = perAlong[at] as number;
			const c = perAcross[at] as number;
			const d = perDrive[at] as number;
			const shift = f + bias.along * a + bias.across * c + second * (lag[at] as number);
			const spread = a * a * alongAlong + 2 * a * c * alongAcross + c * c * acrossAcross;
			still += f * f;
			axis += (shift - f) ** 2 + spread;
			drive += d * d * swing;
			whole += shift ** 2 + spread + d * d * swing;
		}
		const most = Math.sqrt(whole);
		if (!(most > worst.whole)) continue;
		worst.star = frame.stars[i] as FrameStar;
		worst.fixed = Math.sqrt(still);
		worst.axis = Math.sqrt(axis);
		worst.drive = Math.sqrt(drive);
		worst.whole = most;
	}
	return worst;
}

/**
 * How far the field turns about the middle of the frame over an exposure, root mean square, degrees: the residual
 * turn's part along the line of sight. To first order the residual turn is ωt times the axis error as a vector, so that
 * a frame at declination δ turns by ωt · e · cos δ for an error toward it.
 */
export function fieldRotation({ shot }: Frame, { covariance, bias = NO_BIAS }: AxisSpread, exposure: number): number {
	const { spot, attitude, rate } = shot;
	if (rate === 0) return 0;
	const a = dot(attitude.forward, axisVector(spot.latitude, { along: 90, across: 0 }));
	const c = dot(attitude.forward, axisVector(spot.latitude, { along: 0, across: 90 }));
	const { alongAlong, alongAcross, acrossAcross } = covariance;
	const variance = a * a * alongAlong + 2 * a * c * alongAcross + c * c * acrossAcross;
	const mean = a * bias.along + c * bias.across;
	return SKY_RATE_RAD * exposure * rate * Math.sqrt(Math.max(0, variance + mean * mean));
}

/** Pixels at the middle of the frame for an angle in degrees. */
export const pixelsFor = (camera: Camera, angle: number): number => (angle * 3600) / pixelScaleArcsec(camera);
