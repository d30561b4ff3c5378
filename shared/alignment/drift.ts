/**
 * What the drift of stars on tracked frames says of the axis.
 *
 * With the tracker running about an axis that is off by e = (along, across), a star at hour angle H drifts in
 * declination (north positive) by −ω (s · along · sin H + across · cos H) a second, and along its parallel (west
 * positive, times cos δ) by ω sin δ (s · along · cos H − across · sin H); s = ±1 north or south. The first does not
 * depend on δ. (Residual rotation e × ω; checked against exact rotations in tests/reference.)
 */
import type { EpochMs } from "../earth/zone.ts";
import { SKY_RATE_ARCSEC } from "../sky/frame.ts";
import { toVector } from "../sky/horizontal.ts";
import { apparentDirection, type SkyBody, type Spot } from "../sky/place.ts";
import { cross, DEG, dot, plus, RAD, times, turnAbout, unit, type Vector } from "../sky/vector.ts";
import { type AxisVector, type Covariance, hemisphere } from "./axis-error.ts";
import { solvePair } from "./pairs.ts";

/** Drift in declination, arcseconds in a second north positive, for one degree of axis error along and across, at an hour angle in degrees. */
export function declinationDrift(latitude: number, hourAngle: number): AxisVector {
	const perDegree = SKY_RATE_ARCSEC * RAD;
	return {
		along: -perDegree * hemisphere(latitude) * Math.sin(hourAngle * RAD),
		across: -perDegree * Math.cos(hourAngle * RAD),
	};
}

/** Drift along the parallel times cos δ, arcseconds in a second west positive, for one degree along and across. */
export function parallelDrift(latitude: number, hourAngle: number, declination: number): AxisVector {
	const perDegree = SKY_RATE_ARCSEC * RAD * Math.sin(declination * RAD);
	return {
		along: perDegree * hemisphere(latitude) * Math.cos(hourAngle * RAD),
		across: -perDegree * Math.sin(hourAngle * RAD),
	};
}

/** A drift is measured to this, pixels, one standard deviation: common practice, no source. */
export const MEASURED_TO_PIXELS = 1;

/** A measured drift of one star in declination. */
export interface MeasuredDrift {
	/** Degrees. */
	readonly hourAngle: number;
	/** Arcseconds a second, north positive, and its standard deviation. */
	readonly rate: number;
	readonly spread: number;
}

export interface FoundAxis {
	readonly error: AxisVector;
	readonly covariance: Covariance;
}

/**
 * The axis error from measured drifts, by weighted least squares; undefined when they cannot tell both parts (fewer
 * than two, or all at one hour angle or half a turn apart).
 */
export function axisFromDrifts(latitude: number, drifts: readonly MeasuredDrift[]): FoundAxis | undefined {
	let [aa, ab, bb, ya, yb] = [0, 0, 0, 0, 0];
	for (const { hourAngle, rate, spread } of drifts) {
		const weight = 1 / Math.max(spread, 1e-9) ** 2;
		const { along, across } = declinationDrift(latitude, hourAngle);
		aa += weight * along * along;
		ab += weight * along * across;
		bb += weight * across * across;
		ya += weight * along * rate;
		yb += weight * across * rate;
	}
	const determinant = aa * bb - ab * ab;
	if (!(determinant > 1e-6 * (aa + bb) ** 2)) return undefined;
	return {
		error: { along: (bb * ya - ab * yb) / determinant, across: (aa * yb - ab * ya) / determinant },
		covariance: { alongAlong: bb / determinant, alongAcross: -ab / determinant, acrossAcross: aa / determinant },
	};
}

/** A residual of more than so many standard deviations is no chance. */
const SIGMAS = 3;

/** Whether a drift is what an axis that was found would show, as far as both are known. */
export function agrees(
	latitude: number,
	{ error, covariance }: FoundAxis,
	{ hourAngle, rate, spread }: MeasuredDrift,
): boolean {
	const { along, across } = declinationDrift(latitude, hourAngle);
	const { alongAlong, alongAcross, acrossAcross } = covariance;
	const expected = along * error.along + across * error.across;
	const variance =
		spread ** 2 + along ** 2 * alongAlong + 2 * along * across * alongAcross + across ** 2 * acrossAcross;
	return Math.abs(rate - expected) <= SIGMAS * Math.sqrt(variance);
}

/** What one drift can tell: the part of the axis error it shows, toward `direction`, and what it cannot. */
export function partFromDrift(
	latitude: number,
	{ hourAngle, rate, spread }: MeasuredDrift,
): { readonly size: number; readonly spread: number; readonly direction: AxisVector } {
	const { along, across } = declinationDrift(latitude, hourAngle);
	const length = Math.hypot(along, across);
	return {
		size: rate / length,
		spread: spread / length,
		direction: { along: along / length, across: across / length },
	};
}

/**
 * Turns of tilt and pan, degrees, that take an axis error away: tilt up positive, pan to the right (facing the pole, in
 * both hemispheres clockwise from above) positive; and how far the pan turns for one degree across.
 */
export function correctionOf(
	latitude: number,
	{ along, across }: AxisVector,
): { readonly tilt: number; readonly pan: number; readonly panPerAcross: number } {
	const panPerAcross = 1 / Math.cos(latitude * RAD);
	return { tilt: -along, pan: -across * panPerAcross, panPerAcross };
}

/** A drift as it was measured on a frame. */
export interface FrameDrift {
	/** The frame's middle, and how long it ran, seconds. */
	readonly at: EpochMs;
	readonly seconds: number;
	/** Of the body, arcseconds, the camera level: to the right as one faces it, and toward the zenith. */
	readonly right: number;
	readonly up: number;
	/** One standard deviation of either, arcseconds. */
	readonly spread: number;
	/** Turns of the tracker for one of the sky. */
	readonly rate: number;
}

/**
 * What a drift says of the axis: its part in declination, less the drift that an axis on the pole would show. That one
 * is not nothing: refraction lifts a star less as it climbs (at 14° by 0.07″ for each 15″ of climb), planets and the Moon
 * move among the stars, and at another rate than the stars' the frame trails.
 *
 * A camera that turns at k times the sky's rate about the pole p, and turned back to the frame's middle, sees the body
 * go from Rot(p, −kωT/2) s₀ to Rot(p, +kωT/2) s₁, s₀ and s₁ being where it is seen at the frame's start and end. An axis
 * error adds k e × ω at the place where it is *seen*, so hour angle and declination are those of that place.
 */
export function measuredDrift(body: SkyBody, spot: Spot, drift: FrameDrift): MeasuredDrift {
	const { at, seconds, rate } = drift;
	const seenAt = (t: EpochMs): Vector => toVector(apparentDirection(body, spot, t));
	const pole: Vector = [0, Math.cos(spot.latitude * RAD), Math.sin(spot.latitude * RAD)];
	const half = ((rate * SKY_RATE_ARCSEC * seconds) / 2 / 3600) * RAD;
	const start = turnAbout(pole, -half, seenAt(at - seconds * 500));
	const end = turnAbout(pole, half, seenAt(at + seconds * 500));
	const moved = plus(end, times(start, -1));
	const middle = seenAt(at);
	const right = unit(cross(middle, [0, 0, 1]));
	const up = cross(right, middle);
	const onPole = { right: dot(moved, right) * DEG * 3600, up: dot(moved, up) * DEG * 3600 };
	const { hourAngle, declination } = hourAngleOf(middle, spot.latitude);
	const north = northOf(spot.latitude, hourAngle, declination, drift.right - onPole.right, drift.up - onPole.up);
	return { hourAngle, rate: north / seconds / rate, spread: drift.spread / seconds / rate };
}

/** Hour angle and declination of a direction (east, north, up) as it stands, degrees. */
function hourAngleOf([east, north, up]: Vector, latitude: number): { hourAngle: number; declination: number } {
	const [s, c] = [Math.sin(latitude * RAD), Math.cos(latitude * RAD)];
	return {
		hourAngle: Math.atan2(-east, c * up - s * north) * DEG,
		declination: Math.asin(Math.max(-1, Math.min(1, s * up + c * north))) * DEG,
	};
}

/** The part toward north of a way on the sky, measured to the right and up on the ground. */
function northOf(latitude: number, hourAngle: number, declination: number, right: number, up: number): number {
	const north = northOnFrame(latitude, hourAngle, declination);
	return up * north.up + right * north.right;
}

/** The way to the celestial north pole on a level frame, to the right and up, of length 1; degrees. */
export function northOnFrame(
	latitude: number,
	hourAngle: number,
	declination: number,
): { readonly right: number; readonly up: number } {
	const [phi, delta, hour] = [latitude * RAD, declination * RAD, hourAngle * RAD];
	// Parallactic angle: from the zenith's direction clockwise to north's, as one faces the star (Meeus, ch. 14).
	const q = Math.atan2(
		Math.sin(hour) * Math.cos(phi),
		Math.sin(phi) * Math.cos(delta) - Math.cos(phi) * Math.sin(delta) * Math.cos(hour),
	);
	return { right: Math.sin(q), up: Math.cos(q) };
}

/** Axis errors for one arcsecond a second of drift at either hour angle: unit directions solved, then scaled by the rate. */
export function solveRates(
	latitude: number,
	first: number,
	second: number,
): readonly [AxisVector, AxisVector] | undefined {
	const scale = SKY_RATE_ARCSEC * RAD;
	const shrink = (v: AxisVector, k: number): AxisVector => ({ along: v.along * k, across: v.across * k });
	const solved = solvePair(
		shrink(declinationDrift(latitude, first), 1 / scale),
		shrink(declinationDrift(latitude, second), 1 / scale),
	);
	return solved && [shrink(solved[0], 1 / scale), shrink(solved[1], 1 / scale)];
}
