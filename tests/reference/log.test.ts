import { describe, expect, test } from "vitest";
import { axisFromSolved } from "../../shared/alignment/solved-frames.ts";
import { fieldRotation } from "../../shared/alignment/trail.ts";
import { pixelScaleArcsec } from "../../shared/optics/camera.ts";
import { toDirection } from "../../shared/sky/horizontal.ts";
import { airlessDirection, findBody, type SkyBody, type Spot } from "../../shared/sky/place.ts";
import { evaluateText, planWith, valuesOf } from "../plan-text.ts";
import { held } from "./held.ts";
import { axisError, dir, driftOf, later, spin, type V } from "./simulation.ts";

const cameraOf = {
	focalLength: 24,
	fNumber: 2,
	sensor: [36, 24] as const,
	pixelPitch: 6,
	projection: "rectilinear" as const,
};
const noAir = { pressure: 0, temperature: 10 };

/** An axis that is off by a known amount. */
function offAxis(latitude: number, along: number, across: number): V {
	const base = dir(latitude >= 0 ? 0 : 180, Math.abs(latitude) + along);
	const turn = across / Math.cos((latitude * Math.PI) / 180);
	return spin([0, 0, -1], turn, base);
}

/** A log entry of the drift that a camera, level and turned by that axis, would show. */
function entry(
	latitude: number,
	longitude: number,
	axis: V,
	name: string,
	clock: string,
	instant: number,
	seconds: number,
): string {
	const body = findBody(name) as SkyBody;
	const spot: Spot = { latitude, longitude, elevation: 0, air: noAir };
	const place = airlessDirection(body, spot, instant);
	const start = dir(place.azimuth, place.altitude);
	const end = toDirection(driftOf(latitude, axis, start, seconds));
	const toPixels = 3600 / pixelScaleArcsec(cameraOf);
	const right = (end.azimuth - place.azimuth) * Math.cos((place.altitude * Math.PI) / 180) * toPixels;
	const up = (end.altitude - place.altitude) * toPixels;
	return `- { at: "${clock}", frame: ${seconds} s, star: ${name}, drift: { right: ${right.toFixed(4)} px, up: ${up.toFixed(4)} px } }`;
}

describe("the log", () => {
	test.each([
		[-32.4, 0.9, -1.3, "Antares", "Denebola"],
		[39, -0.6, 0.8, "Antares", "Denebola"],
		[55, 0.4, 0.5, "Vega", "Regulus"],
	] as const)(
		"at latitude %d an axis off by %d° and %d° is found again from two drifts",
		(latitude, along, across, one, other) => {
			const axis = offAxis(latitude, along, across);
			expect(axisError(latitude, axis)[0]).toBeCloseTo(along, 1);
			const night = Date.UTC(2027, 5, 5);
			// The site's zone is Etc/GMT-1 there or one of no summer time; clock times are given in UTC.
			const log = [
				entry(latitude, 20, axis, one, "22:30", night + 22.5 * 3_600_000, 240),
				entry(latitude, 20, axis, other, "22:40", night + (22 * 60 + 40) * 60_000, 240),
			].join("\n");
			const text = planWith({
				site: `name: A\nlatitude: ${latitude}\nlongitude: 20\ntimezone: Etc/UTC`,
				night: "date: 2027-06-05",
				log,
			});
			const found = evaluateText(text).log?.value?.evenings[0]?.found;
			const [realAlong, realAcross] = axisError(latitude, axis);
			expect(found?.error.along).toBeCloseTo(realAlong, 1);
			expect(found?.error.across).toBeCloseTo(realAcross, 1);
			expect(found?.spread.along).toBeGreaterThan(0.01);
		},
	);

	test("the correction undoes it, in words for hands", () => {
		const axis = offAxis(-32.4, 0.9, -1.3);
		const night = Date.UTC(2027, 5, 5);
		const log = [
			entry(-32.4, 20, axis, "Antares", "22:30", night + 22.5 * 3_600_000, 240),
			entry(-32.4, 20, axis, "Denebola", "22:40", night + (22 * 60 + 40) * 60_000, 240),
		].join("\n");
		const text = planWith({
			site: "name: A\nlatitude: -32.4\nlongitude: 20\ntimezone: Etc/UTC",
			night: "date: 2027-06-05",
			log,
		});
		expect(valuesOf(text).get("log.correction")).toMatch(
			/^lower tilt 0\.[89]\d° ± 0\.\d+°, pan right 1\.[456]° ± 0\.\d+°$|^lower tilt 0\.[89]\d° ± 0\.\d+°, pan right 1\.\d\d° ± 0\.\d+°$/,
		);
	});

	test("evenings with the same error give the tracker's constants, and evenings that scatter give their spread", () => {
		const night = (day: number) => Date.UTC(2027, 5, day);
		const errors: readonly (readonly [number, number])[] = [
			[0.5, -0.8],
			[0.6, -0.7],
			[0.4, -0.9],
		];
		const log = errors
			.flatMap(([along, across], i) => {
				const axis = offAxis(-32.4, along, across);
				const dated = (text: string) => text.replace("- {", `- { date: 2027-06-0${i + 1},`);
				return [
					dated(entry(-32.4, 20, axis, "Antares", "22:30", night(i + 1) + 22.5 * 3_600_000, 240)),
					dated(entry(-32.4, 20, axis, "Denebola", "22:40", night(i + 1) + (22 * 60 + 40) * 60_000, 240)),
				];
			})
			.join("\n");
		const constant = evaluateText(
			planWith({ site: "name: A\nlatitude: -32.4\nlongitude: 20\ntimezone: Etc/UTC", night: "date: 2027-06-05", log }),
		).log?.value?.constant;
		expect(constant?.evenings).toBe(3);
		expect(constant?.tiltZero).toBeCloseTo(-0.5, 1);
		expect(constant?.panZero).toBeCloseTo(-0.8 / Math.cos((32.4 * Math.PI) / 180), 1);
		expect(constant?.tiltSpread).toBeCloseTo(0.1 / Math.sqrt(3), 1);
	});

	test.each([
		["a turn of the plate by 60°", 0, 60],
		["a tracked run of 20 minutes", 1200, (1200 * 15.041067) / 3600],
	] as const)("two solved frames, %s: the axis is found", (_, seconds, turn) => {
		for (const latitude of [39, -32.4]) {
			const spot: Spot = { latitude, longitude: 20, elevation: 0, air: noAir };
			const at = Date.UTC(2027, 5, 5, 22);
			const axis = offAxis(latitude, 0.7, -0.4);
			// The camera looks somewhere, some way up; the plate turns it about the axis.
			const forward = dir(120, 35);
			const up = spin(
				forward,
				25,
				spin(
					spin([0, 0, 1], 0, [Math.cos((-120 * Math.PI) / 180), Math.sin((-120 * Math.PI) / 180), 0]),
					0,
					dir(120, 125),
				),
			);
			const sense = latitude >= 0 ? -1 : 1;
			const turned = (v: V) => spin(axis, sense * turn, v);
			const first = solve(spot, at, forward, up);
			const second = solve(spot, at + seconds * 1000, turned(forward), turned(up));
			const found = axisFromSolved(spot, first, second);
			const [along, across] = axisError(latitude, axis);
			expect(found?.turn).toBeCloseTo(turn, 2);
			expect(found?.error.along).toBeCloseTo(along, 2);
			expect(found?.error.across).toBeCloseTo(across, 2);
		}
	});

	test("two frames without a turn between them tell nothing", () => {
		const frame = { at: 0, rightAscension: 200, declination: -20, positionAngle: 10 };
		expect(axisFromSolved({ latitude: 39, longitude: 0, elevation: 0, air: noAir }, frame, frame)).toBeUndefined();
	});

	/** What a plate solver would say of a camera: found by a search over J2000 places, with the project's own sky only to look up. */
	function solve(spot: Spot, at: number, forward: V, up: V) {
		const seen = (ra: number, dec: number): V => {
			const { azimuth, altitude } = airlessDirection(
				{ type: "fixed", name: "p", rightAscension: ra, declination: dec },
				spot,
				at,
			);
			return dir(azimuth, altitude);
		};
		const dot = (a: V, b: V) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
		const find = (target: V): [number, number] => {
			let [ra, dec] = [0, 0];
			let best = -2;
			for (let r = 0; r < 360; r += 5)
				for (let d = -85; d <= 85; d += 5)
					if (dot(seen(r, d), target) > best) [best, ra, dec] = [dot(seen(r, d), target), r, d];
			for (let step = 4; step > 1e-7; step /= 1.6) {
				for (const [dr, dd] of [
					[step, 0],
					[-step, 0],
					[0, step],
					[0, -step],
				] as const) {
					const value = dot(seen(ra + dr, dec + dd), target);
					if (value > best) [best, ra, dec] = [value, ra + dr, dec + dd];
				}
			}
			return [((ra % 360) + 360) % 360, dec];
		};
		const [rightAscension, declination] = find(forward);
		const above = find(
			spin(
				[
					forward[1] * up[2] - forward[2] * up[1],
					forward[2] * up[0] - forward[0] * up[2],
					forward[0] * up[1] - forward[1] * up[0],
				],
				2,
				forward,
			),
		);
		const R = Math.PI / 180;
		const y = Math.sin((above[0] - rightAscension) * R) * Math.cos(above[1] * R);
		const x =
			Math.sin(above[1] * R) * Math.cos(declination * R) -
			Math.cos(above[1] * R) * Math.sin(declination * R) * Math.cos((above[0] - rightAscension) * R);
		return { at, rightAscension, declination, positionAngle: Math.atan2(y, x) / R };
	}
});

describe("field rotation", () => {
	test("an axis off by e across, a frame on the horizon's east-west line: ωt e cos δ, against two stars turned exactly", () => {
		const latitude = 39;
		const shot = {
			camera: cameraOf,
			vertical: false,
			aim: { azimuth: 90, altitude: 0.001 },
			spot: { latitude, longitude: 0, elevation: 0, air: noAir },
			rate: 1,
		};
		const predicted = fieldRotation(
			held(shot),
			{ covariance: { alongAlong: 0, alongAcross: 0, acrossAcross: 1 } },
			300,
		);
		const axis = offAxis(latitude, 0, 1);
		const left = dir(88, 0);
		const right = dir(92, 0);
		const slope = (a: V, b: V) => Math.atan2(b[2] - a[2], b[1] - a[1]);
		const change =
			(slope(driftOf(latitude, axis, left, 300), driftOf(latitude, axis, right, 300)) - slope(left, right)) *
			(180 / Math.PI);
		const turned = Math.abs(((change + 540) % 360) - 180);
		expect(predicted).toBeCloseTo(turned, 4);
		expect(later(latitude, left, 0)).toEqual([
			expect.closeTo(left[0], 9),
			expect.closeTo(left[1], 9),
			expect.closeTo(left[2], 9),
		]);
	});
});
