import { describe, expect, test } from "vitest";
import { longestUntracked } from "../../shared/alignment/longest-exposure.ts";
import { type Camera, fieldAcross, pixelScaleArcsec, pointOf, rayOf } from "../../shared/optics/camera.ts";
import { npfFull, npfSimple, rateLimit, rule500 } from "../../shared/optics/untracked.ts";
import { held } from "./held.ts";

const camera = (focalLength: number, fNumber: number, pixelPitch: number, crop = 1): Camera => ({
	focalLength,
	fNumber,
	pixelPitch,
	sensor: [36 / crop, 24 / crop],
	projection: "rectilinear",
});

describe("untracked limits", () => {
	// f, N, p, declination → 500 rule, NPF simple, NPF full k = 1 and 2, one pixel. Formulas: scantips.com (500), TOAP 2017
	// (simple), dpreview 66403356 (full); values recomputed by hand.
	const rows = [
		[14, 2.8, 4.35, 0, 1, 35.714, 16.3214, 7.7317, 15.4634, 4.261],
		[24, 1.4, 5.9, 0, 1, 20.833, 9.4167, 4.4541, 8.9082, 3.3712],
		[24, 2.8, 4.35, -29, 1, 20.833, 9.5208, 5.2042, 10.4084, 2.8419],
		[24, 2.8, 4.35, 60, 1, 20.833, 9.5208, 9.1034, 18.2069, 4.9711],
		[16, 2.8, 3.9, 0, 1.53, 20.425, 13.4375, 6.392, 12.7841, 3.3427],
		[135, 2, 3.76, 45, 1, 3.704, 1.3541, 1.0343, 2.0686, 0.5402],
	] as const;
	test.each(rows)(
		"%d mm f/%d %d µm at declination %d",
		(f, n, p, declination, crop, k500, simple, full, full2, pixel) => {
			const one = camera(f, n, p, crop);
			expect(rule500(one)).toBeCloseTo(k500, 2);
			expect(npfSimple(one)).toBeCloseTo(simple, 3);
			expect(npfFull(one, declination)).toBeCloseTo(full, 3);
			expect(npfFull(one, declination, 2)).toBeCloseTo(full2, 3);
			expect(rateLimit(one, declination, 1)).toBeCloseTo(pixel, 3);
		},
	);

	test("near the pole nothing divides by zero", () => {
		expect(npfFull(camera(24, 2, 6), 90)).toBeLessThan(2000);
		expect(rateLimit(camera(24, 2, 6), -90, 1)).toBeLessThan(1000);
	});

	test("the exact limit over the whole frame is shorter than that of its middle, by what a wide lens stretches its corners", () => {
		const one = camera(24, 2, 6);
		const spot = { latitude: 0, longitude: 0, elevation: 0, air: { pressure: 0, temperature: 10 } };
		const shot = {
			camera: one,
			vertical: false,
			aim: { azimuth: 90, altitude: 60 },
			spot,
			rate: 0,
		};
		const tiny = { ...shot, camera: { ...one, sensor: [0.01, 0.01] as const } };
		expect(longestUntracked(held(tiny), 1)).toBeCloseTo(rateLimit(one, 0, 1), 1);
		expect(longestUntracked(held(shot), 1)).toBeLessThan(rateLimit(one, 0, 1));
		expect(longestUntracked(held(shot), 1)).toBeGreaterThan(rateLimit(one, 0, 1) / 2.5);
	});
});

describe("a camera", () => {
	test("field of view and pixel scale: 2 atan(w / 2f), 206265″ · atan(p / f)", () => {
		expect(fieldAcross(camera(24, 2, 6), 36)).toBeCloseTo(73.7398, 4);
		expect(fieldAcross(camera(50, 2, 6), 24)).toBeCloseTo(26.9915, 4);
		expect(pixelScaleArcsec(camera(14, 2.8, 4.3))).toBeCloseTo(63.35276, 4);
		expect(pixelScaleArcsec(camera(135, 2, 3.76))).toBeCloseTo(5.744857, 5);
		expect(fieldAcross({ ...camera(15, 2.8, 6), projection: "equisolid" }, 43.27)).toBeCloseTo(
			(4 * Math.asin(43.27 / 60) * 180) / Math.PI,
			6,
		);
		expect(fieldAcross({ ...camera(15, 2.8, 6), projection: "equidistant" }, 30)).toBeCloseTo(114.5916, 3);
	});

	test.each(["rectilinear", "equisolid", "equidistant"] as const)(
		"%s: a place on the sensor comes back",
		(projection) => {
			const one = { ...camera(15, 2.8, 6), projection };
			for (const [x, y] of [
				[0, 0],
				[10, -7],
				[-18, 12],
				[3, 0.001],
			] as const) {
				const back = pointOf(one, rayOf(one, x, y));
				expect(back?.[0]).toBeCloseTo(x, 9);
				expect(back?.[1]).toBeCloseTo(y, 9);
			}
		},
	);
});
