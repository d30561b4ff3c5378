/** The Milky Way's arch against ERFA (arch-cases.json, made by make-arch-cases.py), and the panorama it needs by a sampler of its own. */
import { describe, expect, test } from "vitest";
import { panoramaFor } from "../../shared/optics/panorama.ts";
import { archAt, archTurn } from "../../shared/sky/arch.ts";
import { coverOf } from "../../shared/sky/cover.ts";
import { apart, type Direction } from "../../shared/sky/horizontal.ts";
import { outlineOf } from "../../shared/sky/outline.ts";
import { apparentDirection, findBody, type SkyBody, type Spot } from "../../shared/sky/place.ts";
import { halfTurn } from "../../shared/sky/vector.ts";
import cases from "./arch-cases.json" with { type: "json" };

/** Without air. */
const spotOf = ({ latitude, longitude }: { latitude: number; longitude: number }): Spot => ({
	latitude,
	longitude,
	elevation: 0,
	air: { pressure: 0, temperature: 10 },
});
const FLAT = coverOf(undefined, undefined);

describe("the Milky Way's arch", () => {
	test("feet and top within 0.05° of ERFA, both hemispheres", () => {
		let worst = 0;
		for (const one of cases) {
			const spot = spotOf(one);
			const at = Date.parse(one.at);
			const { top, left, right, whole } = archAt(spot, FLAT, at);
			expect(whole).toBe(true);
			const off = [
				Math.abs(halfTurn((left?.azimuth ?? Number.NaN) - one.left)),
				Math.abs(halfTurn((right?.azimuth ?? Number.NaN) - one.right)),
				Math.abs(top.altitude - (one.top[1] as number)),
				apart(top, { azimuth: one.top[0] as number, altitude: one.top[1] as number }),
				apart(top, apparentDirection(findBody("milky-way-arch") as SkyBody, spot, at)),
			];
			for (const each of off) expect(each, JSON.stringify(one)).toBeLessThan(0.05);
			worst = Math.max(worst, ...off);
		}
		console.log(`arch: worst of ${cases.length} skies ${worst.toFixed(4)}°`);
	});

	test("its feet are on the skyline, and something across it breaks it", () => {
		const [one] = cases;
		if (!one) throw new Error("no case");
		const spot = spotOf(one);
		const at = Date.parse(one.at);
		const cover = coverOf(
			[
				[0, 12],
				[100, 25],
				[200, 5],
				[300, 18],
			],
			undefined,
		);
		const { left, right, top, whole } = archAt(spot, cover, at);
		for (const foot of [left, right]) expect(foot?.altitude).toBeCloseTo(cover.skylineAt(foot?.azimuth ?? 0), 2);
		expect(whole).toBe(true);
		const { azimuth, altitude } = top;
		const branch = {
			name: "branch",
			outline: outlineOf([
				[azimuth - 2, altitude - 3],
				[azimuth + 2, altitude - 3],
				[azimuth + 2, altitude + 3],
				[azimuth - 2, altitude + 3],
			]),
			window: undefined,
		};
		expect(archAt(spot, coverOf(undefined, undefined, [branch]), at).whole).toBe(false);
		expect(archAt(spot, coverOf([[0, 89.9]], undefined), at)).toMatchObject({ left: undefined, whole: false });
		// A wall beside its top: one foot is at the top, and behind the wall it comes up again.
		const wall = (from: number, until: number) =>
			archAt(
				spot,
				coverOf(
					[
						[azimuth + from - 0.1, 2],
						[azimuth + from, 85],
						[azimuth + until, 85],
						[azimuth + until + 0.1, 2],
					].map(([bearing = 0, height = 0]) => [(bearing + 360) % 360, height] as const),
					undefined,
				),
				at,
			);
		expect(wall(1, 60).right?.altitude).toBeGreaterThan(altitude - 1);
		expect(wall(1, 60).whole).toBe(false);
		expect(wall(1, 179).whole).toBe(false);
		expect(wall(-60, -1).whole).toBe(false);
		// Far from the top it is a hill on which a foot stands, or one that cuts the arch in two.
		expect(wall(88, 120).whole).toBe(true);
		expect(wall(60, 65).whole).toBe(false);
	});

	test("turns no faster than the sky, and by nothing in no time", () => {
		const [one] = cases;
		if (!one) throw new Error("no case");
		const at = Date.parse(one.at);
		expect(archTurn(spotOf(one), at, at)).toBe(0);
		// The galactic pole is 62.87° from the celestial one: in an hour it moves by 15.041° · sin 62.87° along its circle.
		expect(archTurn(spotOf(one), at, at + 3_600_000)).toBeCloseTo(13.37, 1);
	});
});

describe("the panorama it needs", () => {
	/** Tangent-plane place of a direction in a level frame, by spherical trigonometry. */
	const inFrame = (one: Direction, frame: Direction): readonly [number, number] | undefined => {
		const r = Math.PI / 180;
		const [a, h, c] = [(one.azimuth - frame.azimuth) * r, one.altitude * r, frame.altitude * r];
		const cos = Math.sin(c) * Math.sin(h) + Math.cos(c) * Math.cos(h) * Math.cos(a);
		if (cos <= 0) return undefined;
		return [
			(Math.cos(h) * Math.sin(a)) / cos,
			(Math.cos(c) * Math.sin(h) - Math.sin(c) * Math.cos(h) * Math.cos(a)) / cos,
		];
	};

	test("covers arch and band, and its columns overlap in the lowest row", () => {
		for (const one of cases)
			for (const focalLength of [14, 24, 50])
				for (const portrait of [false, true]) {
					const { band } = archAt(spotOf(one), FLAT, Date.parse(one.at));
					const camera = {
						focalLength,
						fNumber: 2,
						sensor: [36, 24] as const,
						pixelPitch: 6,
						projection: "rectilinear" as const,
					};
					const grid = panoramaFor(band, camera, portrait, 0.3);
					const label = `${one.at} ${focalLength} mm ${portrait}`;
					if (!grid) throw new Error(label);
					const half = (portrait ? [12, 18] : [18, 12]).map((side) => side / focalLength) as [number, number];
					const missed = band.filter(
						(direction) =>
							!grid.altitudes.some((altitude) =>
								grid.bearings.some((azimuth) => {
									const place = inFrame(direction, { azimuth, altitude });
									return place && Math.abs(place[0]) <= half[0] && Math.abs(place[1]) <= half[1];
								}),
							),
					);
					expect(missed, label).toEqual([]);
					const across = (2 * Math.atan(half[0]) * 180) / Math.PI;
					const low = Math.min(...grid.altitudes.map(Math.abs));
					const [first = 0, second = first] = grid.bearings;
					expect(second - first, label).toBeLessThanOrEqual((across * 0.7) / Math.cos((low * Math.PI) / 180) + 1e-6);
				}
	});

	test("nothing to cover, or too much for a long lens", () => {
		const camera = {
			focalLength: 600,
			fNumber: 4,
			sensor: [36, 24] as const,
			pixelPitch: 6,
			projection: "rectilinear" as const,
		};
		expect(panoramaFor([], camera, false, 0.3)).toBe(undefined);
		const [one] = cases;
		if (one)
			expect(panoramaFor(archAt(spotOf(one), FLAT, Date.parse(one.at)).band, camera, false, 0.3)).toBe(undefined);
	});
});
