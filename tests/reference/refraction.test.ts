import { describe, expect, test } from "vitest";
import {
	apparentAltitude,
	refractionOfApparent,
	refractionOfTrue,
	standardPressure,
	trueAltitude,
} from "../../shared/sky/refraction.ts";

const air = { pressure: 1010, temperature: 10 };

describe("refraction", () => {
	test("Bennett (1982), from apparent altitudes, minutes", () => {
		const rows = [
			[0, 34.4775],
			[0.5, 28.7537],
			[1, 24.3291],
			[2, 18.2161],
			[5, 9.8831],
			[10, 5.3915],
			[15, 3.6362],
			[25, 2.1204],
			[39, 1.2275],
			[50, 0.8351],
			[65, 0.4641],
		] as const;
		// Another formula than ours, which agrees with it to 0.1′; ours is the inverse of the one for true altitudes.
		for (const [altitude, minutes] of rows)
			expect(Math.abs(refractionOfApparent(altitude, air) * 60 - minutes)).toBeLessThan(0.1);
	});

	test("Sæmundsson (1986), from true altitudes, minutes", () => {
		const rows = [
			[0, 28.9819],
			[0.5, 25.0039],
			[1, 21.7439],
			[2, 16.9257],
			[5, 9.6741],
			[10, 5.4077],
			[15, 3.675],
			[25, 2.1537],
			[39, 1.2492],
			[50, 0.8502],
			[65, 0.4725],
		] as const;
		for (const [altitude, minutes] of rows) expect(refractionOfTrue(altitude, air) * 60).toBeCloseTo(minutes, 3);
	});

	test("Meeus 16.a: 30′ apparent is 1.246′ true by Bennett's formula", () => {
		expect(Math.abs(30 - refractionOfApparent(0.5, air) * 60 - 1.246)).toBeLessThan(0.1);
	});

	test("one model both ways: there and back is where one was, to a microarcsecond", () => {
		const airs = [air, { pressure: 400, temperature: -30 }, { pressure: 1050, temperature: -40 }];
		let worst = 0;
		for (const one of airs)
			for (let altitude = -6; altitude <= 90; altitude += 0.013) {
				worst = Math.max(worst, Math.abs(trueAltitude(apparentAltitude(altitude, one), one) - altitude));
				worst = Math.max(worst, Math.abs(apparentAltitude(trueAltitude(altitude, one), one) - altitude));
			}
		expect(worst * 3600).toBeLessThan(1e-5);
	});

	test("thin and cold air: P/1010 · 283/(273 + T)", () => {
		expect(refractionOfTrue(20, { pressure: 505, temperature: 10 })).toBeCloseTo(refractionOfTrue(20, air) / 2, 9);
		expect(refractionOfTrue(20, { pressure: 1010, temperature: -20 })).toBeCloseTo(
			(refractionOfTrue(20, air) * 283) / 253,
			9,
		);
	});

	test("it fades out below the horizon, is never negative, and is none without air", () => {
		for (let altitude = -90; altitude <= 90; altitude += 0.25) {
			expect(refractionOfTrue(altitude, air)).toBeGreaterThanOrEqual(0);
			expect(refractionOfApparent(altitude, air)).toBeGreaterThanOrEqual(0);
			expect(refractionOfTrue(altitude, { pressure: 0, temperature: 0 })).toBe(0);
		}
		expect(refractionOfTrue(-3, air)).toBe(0);
		expect(refractionOfTrue(90, air) * 3600).toBeLessThan(0.2);
	});

	test("ISO 2533: 1013.25 hPa at sea level, 898.75 at 1000 m, 794.95 at 2000 m", () => {
		expect(standardPressure(0)).toBeCloseTo(1013.25, 6);
		expect(standardPressure(1000)).toBeCloseTo(898.75, 1);
		expect(standardPressure(2000)).toBeCloseTo(794.95, 1);
	});
});
