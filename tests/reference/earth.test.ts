import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { magneticField } from "../../shared/earth/magnetism.ts";
import { sightline } from "../../shared/earth/sightline.ts";

/** Instant of a year with its fraction. */
const instantOfYear = (year: number): number => {
	const whole = Math.floor(year);
	const start = Date.UTC(whole, 0, 1);
	return start + (year - whole) * (Date.UTC(whole + 1, 0, 1) - start);
};

describe("magnetic declination", () => {
	// year, km, latitude, longitude, declination, horizontal intensity: WMM2025_FINAL_TEST_VALUES_HIGHPREC.txt and the report's
	// table 6, from CIRES-Geomagnetism/wmm@ed8bc33.
	const rows: readonly (readonly number[])[] = [
		[2025.0, 28, 89, -121, -99.77, 1504.298],
		[2025.0, 48, 80, -96, -29.91, 2164.286],
		[2025.0, 65, 43, 93, 0.5, 24300.765],
		[2025.0, 51, -33, 109, -5.49, 21838.046],
		[2025.0, 18, 0, 21, 1.29, 29282.246],
		[2025.5, 6, -36, -137, 20.28, 25353.231],
		[2025.5, 44, 33, -118, 11.1, 23678.743],
		[2026.0, 82, -64, 87, -81.74, 13974.248],
		[2026.5, 19, 29, 66, 2.24, 32749.959],
		[2026.5, 12, -79, 115, -137.58, 13023.481],
		[2027.0, 61, 59, -77, -16.48, 10884.813],
		[2027.5, 0, -13, -59, -17.49, 22401.493],
		[2027.5, 16, 66, -178, 0.37, 13821.614],
		[2028.5, 28, 54, -120, 15.43, 15286.094],
		[2029.0, 19, 46, -22, -5.65, 22632.017],
		[2029.5, 66, -21, 32, -14.63, 16100.323],
		[2025.0, 0, 80, 0, 1.28, 6523.2],
		[2027.5, 100, -80, 240, (1.1856308407 * 180) / Math.PI, 15927.0],
	];

	test("WMM2025: the makers' own test values within 0.01°", () => {
		let worst = 0;
		for (const [year = 0, km = 0, latitude = 0, longitude = 0, declination = 0, horizontal = 0] of rows) {
			const field = magneticField(latitude, longitude, km * 1000, instantOfYear(year));
			expect(field?.horizontal).toBeCloseTo(horizontal, 0);
			worst = Math.max(worst, Math.abs((field?.declination ?? 999) - declination));
		}
		console.log(`declination: worst ${worst.toFixed(4)}°`);
		expect(worst).toBeLessThan(0.01);
	});

	test("a worked value of another maker: 1 km, 42.283, −71.35, 2028-07-04 (MathWorks wrldmagm)", () => {
		const field = magneticField(42.283, -71.35, 1000, Date.UTC(2028, 6, 4));
		expect(field?.declination).toBeCloseTo(-13.6891, 2);
	});

	test("the whole of 2029 is served, zones are told, and years far off have no value", () => {
		expect(magneticField(40, 10, 0, Date.UTC(2029, 11, 31))).toMatchObject({ valid: true, model: "WMM2025" });
		expect(magneticField(40, 10, 0, Date.UTC(2030, 0, 2))?.valid).toBe(false);
		expect(magneticField(40, 10, 0, Date.UTC(1900, 0, 1))).toBeUndefined();
		expect(magneticField(40, 10, 0, Date.UTC(2100, 0, 1))).toBeUndefined();
		expect(magneticField(89, -121, 28_000, Date.UTC(2025, 0, 1))?.zone).toBe("blackout");
		expect(magneticField(80, -96, 48_000, Date.UTC(2025, 0, 1))?.zone).toBe("caution");
		expect(magneticField(90, 0, 0, Date.UTC(2027, 0, 1))?.declination).toBeTypeOf("number");
	});

	test("model error: sqrt(0.26² + (5417 / H)²) degrees (WMM2025 report, eq. 43)", () => {
		const field = magneticField(-13, -59, 0, instantOfYear(2027.5));
		expect(field?.declinationSpread).toBeCloseTo(Math.hypot(0.26, 5417 / 22401.493), 4);
	});
});

describe("sight lines", () => {
	test("40 lines by GeodSolve", () => {
		const lines = readFileSync(new URL("geodesic-cases.txt", import.meta.url), "utf8")
			.trim()
			.split("\n");
		for (const line of lines) {
			const [la1 = 0, lo1 = 0, la2 = 0, lo2 = 0, azimuth = 0, distance = 0] = line.split(" ").map(Number);
			const sight = sightline(
				{ latitude: la1, longitude: lo1, elevation: 0 },
				{ latitude: la2, longitude: lo2, elevation: 0 },
			);
			expect(Math.abs(((sight.bearing - azimuth + 540) % 360) - 180)).toBeLessThan(1e-6);
			expect(Math.abs(sight.distance - distance)).toBeLessThan(1e-3);
		}
		expect(lines.length).toBe(40);
	});

	test("Flinders Peak to Buninyong (GDA manual)", () => {
		const sight = sightline(
			{ latitude: -37.951033416667, longitude: 144.424867888889, elevation: 0 },
			{ latitude: -37.652821138889, longitude: 143.926495527778, elevation: 0 },
		);
		expect(sight.bearing).toBeCloseTo(306.8681592, 5);
		expect(sight.distance).toBeCloseTo(54972.271, 2);
	});

	test("apparent altitude of summits: curvature and k = 0.13, from first principles", () => {
		const rows = [
			[10000, 500, 1500, 5.67058],
			[50000, 100, 3100, 3.23715],
			[100000, 0, 4000, 1.89864],
			[30000, 1200, 1200, -0.11736],
		] as const;
		for (const [distance, from, to, altitude] of rows) {
			// Along the equator a geodesic of the ellipsoid is its arc: longitude = distance / a.
			const longitude = ((distance / 6_378_137) * 180) / Math.PI;
			const sight = sightline(
				{ latitude: 0, longitude: 0, elevation: from },
				{ latitude: 0, longitude, elevation: to },
			);
			expect(sight.altitude).toBeCloseTo(altitude, 4);
			expect(sight.bearing).toBeCloseTo(90, 9);
		}
	});
});
