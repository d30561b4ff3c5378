/**
 * `drift`: the axis is corrected from the drift of test frames in two places of the sky; and what a drift says.
 *
 * With the tracker running about an axis that is off by e = (along, across), a star at hour angle H drifts in
 * declination (north positive) by −ω (s · along · sin H + across · cos H) a second, and along its parallel (west
 * positive, times cos δ) by ω sin δ (s · along · cos H − across · sin H); s = ±1 north or south. The first does not
 * depend on δ. (Residual rotation e × ω; checked against exact rotations in tests/reference.)
 */

import type { MethodContent, TestFrame } from "../cells/kinds.ts";
import type { EpochMs } from "../earth/zone.ts";
import {
	axisNumbers,
	type Mark,
	type Method,
	type MethodPlan,
	type Obstacle,
	type SetUp,
	type Step,
	sightObstacles,
	source,
	type Tonight,
} from "../methods/method.ts";
import { CLOSEST_PAIR, solvePair } from "../methods/star-sweep/star-sweep.ts";
import { degrees } from "../notation/angle.ts";
import { durationText } from "../notation/duration.ts";
import { type Camera, pixelScaleArcsec } from "../optics/camera.ts";
import { SKY_RATE_ARCSEC } from "../sky/frame.ts";
import type { Interval } from "../sky/intervals.ts";
import { apparentDirection, equatorialPlace, findBody, type SkyBody, type Spot } from "../sky/place.ts";
import { halfTurn, RAD } from "../sky/vector.ts";
import { type AxisVector, type Covariance, hemisphere } from "./axis-error.ts";

/** How long a test frame runs when the plan does not say, seconds. Common practice, no source. */
export const TEST_FRAME = 240;
/** How well a drift is measured: one pixel where the lens is known, else this, degrees. Common practice, no source. */
const MEASURED_TO = 30 / 3600;

/** Two stars watched, or one: the axis error from how they drift on the sensor. */
export const drift: Method = {
	kind: "drift",
	needs: "a rough alignment by another method, two stars far apart in hour angle, a quarter of an hour",
	usesLaser: false,
	needsScales: false,
	about:
		"After a rough alignment, two tracked test frames show how stars drift; the drifts give the axis error and the correction of tilt and pan. Needs no pole and no instrument, but time, and stars six hours of hour angle apart for both corrections at once.",
	plan,
};

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

/** The correction that takes an axis error away, in words for hands: "raise tilt 0.4° ± 0.1°, pan left 0.9° ± 0.2°". */
export function correctionOf(latitude: number, error: AxisVector, spread?: AxisVector): string {
	const pan = error.across / Math.cos(latitude * RAD);
	const panSpread = spread && spread.across / Math.cos(latitude * RAD);
	const withSpread = (value: number, sigma: number | undefined) =>
		sigma === undefined ? degrees(Math.abs(value), 2) : `${degrees(Math.abs(value), 2)} ± ${degrees(sigma, 2)}`;
	const tilt = `${error.along > 0 ? "lower" : "raise"} tilt ${withSpread(error.along, spread?.along)}`;
	// Facing the pole, clockwise from above is to the right in both hemispheres.
	return `${tilt}, pan ${error.across > 0 ? "left" : "right"} ${withSpread(pan, panSpread)}`;
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

function plan(method: MethodContent, tonight: Tonight): MethodPlan {
	const { spot, onSite, tracker, camera } = tonight;
	const obstacles: Obstacle[] = [];
	const tests = [method.first, method.second];
	tests.forEach((test, i) => {
		if (!test?.star || test.at === undefined) obstacles.push({ type: "needs-key", key: i === 0 ? "first" : "second" });
	});
	let setUp: SetUp = axisNumbers(tonight);
	const seen = tests.map((test, i) =>
		test ? seenTest(test, i === 0 ? "first" : "second", tonight, obstacles) : undefined,
	);
	const [one, other] = seen;
	let effects: readonly [AxisVector, AxisVector] | undefined;
	let windows: readonly Interval[] = [];
	if (one && other) {
		const spread = Math.abs(halfTurn(other.hourAngle - one.hourAngle));
		if (spread < CLOSEST_PAIR || spread > 180 - CLOSEST_PAIR) obstacles.push({ type: "pair-too-close", spread });
		effects = solveRates(spot.latitude, one.hourAngle, other.hourAngle);
		setUp = { ...setUp, marks: [one.mark, other.mark], spread };
		const from = Math.max(onSite.from, Math.min(one.at, other.at) - 600_000);
		const until = Math.min(onSite.until, Math.max(one.at + one.frame * 1000, other.at + other.frame * 1000));
		if (from < until && obstacles.length === 0) windows = [{ from, until }];
	}
	// One degree of measured displacement over a frame is 3600″ / frame of rate.
	const perDegree = (effect: AxisVector | undefined, frame: number): AxisVector =>
		effect ? { along: (effect.along * 3600) / frame, across: (effect.across * 3600) / frame } : { along: 0, across: 0 };
	return {
		setUp,
		at: one?.at,
		windows,
		obstacles,
		sources: [
			source(
				"aim",
				method,
				tracker,
				[perDegree(effects?.[0], one?.frame ?? TEST_FRAME), perDegree(effects?.[1], other?.frame ?? TEST_FRAME)],
				measuredTo(camera),
			),
		],
		steps: steps(seen.filter((test) => test !== undefined)),
	};
}

const measuredTo = (camera: Camera | undefined): number => (camera ? pixelScaleArcsec(camera) / 3600 : MEASURED_TO);

/** Axis errors for one arcsecond a second of drift at either hour angle: unit directions solved, then scaled by the rate. */
function solveRates(latitude: number, first: number, second: number): readonly [AxisVector, AxisVector] | undefined {
	const scale = SKY_RATE_ARCSEC * RAD;
	const shrink = (v: AxisVector, k: number): AxisVector => ({ along: v.along * k, across: v.across * k });
	const solved = solvePair(
		shrink(declinationDrift(latitude, first), 1 / scale),
		shrink(declinationDrift(latitude, second), 1 / scale),
	);
	return solved && [shrink(solved[0], 1 / scale), shrink(solved[1], 1 / scale)];
}

interface SeenTest {
	readonly mark: Mark;
	readonly at: EpochMs;
	readonly frame: number;
	readonly hourAngle: number;
}

function seenTest(test: TestFrame, key: string, tonight: Tonight, obstacles: Obstacle[]): SeenTest | undefined {
	if (!test.star || test.at === undefined) return undefined;
	const body = findBody(test.star);
	if (!body) {
		obstacles.push({ type: "unknown-name", key: `${key}.star`, name: test.star });
		return undefined;
	}
	const at = tonight.instant(test.at);
	const direction = apparentDirection(body, tonight.spot, at);
	// The camera sees fainter stars than the eye: only cover and daylight count.
	obstacles.push(...sightObstacles(body.name, body, direction, tonight, at).filter(({ type }) => type !== "too-faint"));
	return {
		mark: { name: body.name, body, direction },
		at,
		frame: test.frame ?? TEST_FRAME,
		hourAngle: equatorialPlace(body, tonight.spot, at).hourAngle,
	};
}

function steps(tests: readonly SeenTest[]): readonly Step[] {
	return [
		{ say: "Align roughly by another method, then let the tracker run." },
		...tests.map((test) => ({
			say: `Take a test frame on ${test.mark.name}, ${test.hourAngle < -15 ? "in the east" : test.hourAngle > 15 ? "in the west" : "near the meridian"}, camera level, and measure its drift right and up.`,
			number: durationText(test.frame),
		})),
		{ say: "Write both drifts into the log: the reckoning says how far to move tilt and pan." },
		{ say: "Correct both, and take one more test frame." },
	];
}
