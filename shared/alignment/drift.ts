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
import { equatorialPlace, type SkyBody, type Spot } from "../sky/place.ts";
import { RAD } from "../sky/vector.ts";
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

/** A drift measured on the ground's right and up, turned to north and west on the sky. */
export function toDeclination(
	body: SkyBody,
	spot: Spot,
	at: EpochMs,
	right: number,
	up: number,
): { north: number; west: number } {
	const { hourAngle, declination } = equatorialPlace(body, spot, at);
	const [phi, delta] = [spot.latitude * RAD, declination * RAD];
	// Parallactic angle: from the zenith's direction clockwise to north's, as one faces the star (Meeus, ch. 14).
	const q = Math.atan2(
		Math.sin(hourAngle * RAD) * Math.cos(phi),
		Math.sin(phi) * Math.cos(delta) - Math.cos(phi) * Math.sin(delta) * Math.cos(hourAngle * RAD),
	);
	return { north: up * Math.cos(q) + right * Math.sin(q), west: right * Math.cos(q) - up * Math.sin(q) };
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
