/**
 * The drift table of the card against the simulation: a head is set wrong, a star is followed for four minutes, what it
 * moved across its path is looked up, the head is turned by that, and the error must be gone.
 */
import { describe, expect, test } from "vitest";
import { DRIFT_SECONDS, driftFields } from "../../shared/alignment/drift-table.ts";
import { axisError, dir, later, poleAzimuth, spin, type V } from "./simulation.ts";

const ARCSEC = (180 / Math.PI) * 3600;
const minus = (a: V, b: V): V => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const dot = (a: V, b: V): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const times = (a: V, k: number): V => [a[0] * k, a[1] * k, a[2] * k];

/** An axis whose tilt and pan are off by so much, the pan to the right as one faces the pole. */
const axisOf = (latitude: number, tilt: number, pan: number): V =>
	dir(poleAzimuth(latitude) + pan, Math.abs(latitude) + tilt);

/** How far a star moves on the frame, to the right and up, arcseconds, across its path. */
function acrossPath(latitude: number, axis: V, star: V): { right: number; up: number } {
	// The tracker turns about its axis as the sky does about the elevated pole; the frame turns with it.
	const back = (latitude >= 0 ? 1 : -1) * (15.041067 / 3600) * DRIFT_SECONDS;
	const moved = times(minus(spin(axis, back, later(latitude, star, DRIFT_SECONDS)), star), ARCSEC);
	const path = minus(later(latitude, star, 10), star);
	const across = minus(moved, times(path, dot(moved, path) / dot(path, path)));
	const level = Math.hypot(star[0], star[1]);
	const right: V = [star[1] / level, -star[0] / level, 0];
	const up: V = [-star[2] * (star[0] / level), -star[2] * (star[1] / level), level];
	return { right: dot(across, right), up: dot(across, up) };
}

describe.each([52, 33.5, 12, 0.5, -0.52, -24.3, -45, -66])("at latitude %s", (latitude) => {
	const fields = driftFields(latitude, () => true);

	test("the pan is looked at on the meridian, the tilt away from it, both high enough and not overhead", () => {
		expect(fields.map(({ turns }) => turns)).toEqual(["pan", "tilt"]);
		for (const { direction } of fields) {
			expect(direction.altitude).toBeGreaterThanOrEqual(25);
			expect(direction.altitude).toBeLessThanOrEqual(70);
		}
		expect(Math.abs(Math.sin(((fields[0]?.direction.azimuth ?? 90) * Math.PI) / 180))).toBeLessThan(1e-9);
	});

	test.each([
		[0.8, 0.6],
		[-1, 1.5],
		[0.4, -1.2],
	])("tilt off by %s°, pan by %s°: gone after both turns, in their order", (tilt, pan) => {
		let [tiltNow, panNow] = [tilt, pan / Math.cos((latitude * Math.PI) / 180)];
		for (const { turns, direction, north, perArcsec } of fields) {
			const star = dir(direction.azimuth, direction.altitude);
			const { right, up } = acrossPath(latitude, axisOf(latitude, tiltNow, panNow), star);
			// It moved along the way that the table names, or straight against it.
			expect(Math.abs(right * north.up - up * north.right)).toBeLessThan(0.03 * Math.hypot(right, up) + 0.5);
			const turn = (right * north.right + up * north.up) * perArcsec;
			if (turns === "pan") panNow += turn;
			else tiltNow += turn;
		}
		const before = Math.hypot(
			...axisError(latitude, axisOf(latitude, tilt, pan / Math.cos((latitude * Math.PI) / 180))),
		);
		const after = Math.hypot(...axisError(latitude, axisOf(latitude, tiltNow, panNow)));
		expect(after).toBeLessThan(0.06 * before);
	});

	test("what cannot be seen is not looked at", () => {
		expect(driftFields(latitude, () => false)).toEqual([]);
		const west = driftFields(latitude, ({ azimuth }) => azimuth > 181)[0];
		expect(west?.turns).toBe("tilt");
		expect(west?.direction.azimuth).toBeGreaterThan(181);
	});
});

test("the rule of the trade: in the north a star due south that drifts north says that the axis is west of the pole, one in the east that it is too high", () => {
	// Common practice of drift alignment, from memory.
	const [meridian, east] = driftFields(45, ({ azimuth }) => azimuth <= 180.001);
	expect(meridian?.north.up).toBeCloseTo(1);
	expect(meridian?.perArcsec).toBeGreaterThan(0);
	expect(east?.direction.azimuth).toBeLessThan(180);
	expect(east?.perArcsec).toBeLessThan(0);
});
