import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { frameAt, siderealRad } from "../../shared/sky/frame.ts";
import { type Direction, toVector } from "../../shared/sky/horizontal.ts";
import { nightOf } from "../../shared/sky/night.ts";
import { airlessDirection, equatorialPlace, findBody, type Spot } from "../../shared/sky/place.ts";
import { findStar, type Star, starVector } from "../../shared/sky/stars.ts";
import { dot, type Matrix, plus, separation, times, type Vector } from "../../shared/sky/vector.ts";

interface Case {
	readonly name?: string;
	readonly at: string;
	readonly latitude: number;
	readonly longitude: number;
	readonly azimuth: number;
	readonly altitude: number;
}
const cases = JSON.parse(readFileSync(new URL("sky-cases.json", import.meta.url), "utf8")) as {
	stars: Case[];
	sun: Case[];
	parallax: { name: string; at: string; east: number; north: number }[];
	events: { date: string; latitude: number; longitude: number; noon: string; events: Record<string, string> }[];
};

const standAt = (latitude: number, longitude: number, elevation = 0): Spot => ({
	latitude,
	longitude,
	elevation,
	air: { pressure: 0, temperature: 10 },
});
const arcseconds = (a: Direction, b: Direction): number => separation(toVector(a), toVector(b)) * 3600;

/** Where a body of a case stands by the frame of the instant, and by the frame of the nearest half day. */
function errorsOf(name: string, { at, latitude, longitude, ...wanted }: Case): readonly [number, number] {
	const body = findBody(name);
	if (!body) throw new Error(`no ${name}`);
	const instant = Date.parse(at);
	const spot = standAt(latitude, longitude);
	return [
		arcseconds(airlessDirection(body, spot, instant, frameAt(instant)), wanted),
		arcseconds(airlessDirection(body, spot, instant), wanted),
	];
}

const backOf = ([a, b, c]: Matrix, [x, y, z]: Vector): Vector => plus(plus(times(a, x), times(b, y)), times(c, z));

/** Where a star is, J2000 and without aberration, from its place in the catalogue: arcseconds east and north. */
function offsetOf({ index, rightAscension, declination }: Star, at: number): { east: number; north: number } {
	const frame = frameAt(at);
	const seen = backOf(frame.toDate, starVector(index, frame));
	// Aberration adds Earth's velocity and shortens to a unit vector: the length before that from its own two sides.
	const along = dot(seen, frame.earthVelocity);
	const before = along + Math.sqrt(1 - dot(frame.earthVelocity, frame.earthVelocity) + along * along);
	const star = plus(times(seen, before), times(frame.earthVelocity, -1));
	const [ra, dec] = [(rightAscension * Math.PI) / 180, (declination * Math.PI) / 180];
	const arcsec = (180 * 3600) / Math.PI;
	return {
		east: dot(star, [-Math.sin(ra), Math.cos(ra), 0]) * arcsec,
		north: dot(star, [-Math.sin(dec) * Math.cos(ra), -Math.sin(dec) * Math.sin(ra), Math.cos(dec)]) * arcsec,
	};
}

describe("places against ERFA", () => {
	test("59 stars, 2026–2036, within 1 arcsecond", () => {
		// Spellings of that list which are not the IAU's.
		const rename: Record<string, string> = {
			Albereo: "beta1 Cygni",
			Etamin: "gamma Draconis",
			Formalhaut: "Fomalhaut",
			Schedar: "alpha Cassiopeiae",
			Sirrah: "alpha Andromedae",
		};
		let worst = 0;
		let compared = 0;
		for (const one of cases.stars) {
			const name = rename[one.name ?? ""] ?? (one.name as string);
			compared++;
			worst = Math.max(worst, ...errorsOf(name, one));
		}
		console.log(`stars: ${compared} compared, worst ${worst.toFixed(3)}″`);
		expect(compared).toBeGreaterThanOrEqual(59);
		expect(worst).toBeLessThan(1);
	});

	test("annual parallax of alpha Centauri, Sirius, Procyon and Altair through a year, within 0.01 arcseconds", () => {
		let worst = 0;
		for (const name of new Set(cases.parallax.map((one) => one.name))) {
			const of = cases.parallax.filter((one) => one.name === name);
			const star = findStar(name);
			if (!star) throw new Error(`no ${name}`);
			// Proper motion apart, on which catalogues differ: what is left over must be a straight line in time.
			const off = of.map(({ at, east, north }) => {
				const found = offsetOf(star, Date.parse(at));
				return { days: Date.parse(at) / 86_400_000, east: found.east - east, north: found.north - north };
			});
			const [first, last] = [off[0], off[off.length - 1]];
			if (!first || !last) throw new Error(name);
			for (const { days, ...one } of off)
				for (const way of ["east", "north"] as const) {
					const share = (days - first.days) / (last.days - first.days);
					worst = Math.max(worst, Math.abs(one[way] - first[way] - share * (last[way] - first[way])));
				}
			const most = Math.max(...of.map(({ east, north }) => Math.hypot(east, north)));
			console.log(`parallax: ${name} moves by ${most.toFixed(2)}″`);
			expect(most).toBeGreaterThan(0.18);
		}
		console.log(`parallax: worst ${worst.toFixed(4)}″`);
		expect(worst).toBeLessThan(0.01);
	});

	test("the Sun within 3 arcseconds", () => {
		const worst = Math.max(...cases.sun.flatMap((one) => errorsOf("sun", one)));
		console.log(`Sun: worst ${worst.toFixed(2)}″`);
		expect(worst).toBeLessThan(3);
	});

	test("sunset, dusks, dawns and sunrise within 5 seconds, and none where there is none", () => {
		let worst = 0;
		for (const { latitude, longitude, noon, events } of cases.events) {
			const from = Date.parse(noon);
			const night = nightOf(standAt(latitude, longitude), { from, until: from + 86_400_000 }, 18);
			expect(Object.keys(night.sun).sort()).toEqual(Object.keys(events).sort());
			for (const [name, at] of Object.entries(events)) {
				worst = Math.max(
					worst,
					Math.abs((night.sun[name as keyof typeof night.sun] as number) - Date.parse(at)) / 1000,
				);
			}
		}
		console.log(`events of the Sun: worst ${worst.toFixed(2)} s`);
		expect(worst).toBeLessThan(5);
	});
});

describe("places against JPL Horizons", () => {
	// Airless apparent azimuth and elevation at 81° W, 29° N, 10 m; Horizons DE431, run of 12 April 2019.
	const site = { latitude: 29, longitude: -81 };
	const moon: readonly (readonly [string, number, number])[] = [
		["2027-11-11", 112.1214, 47.5899],
		["2027-12-31", 241.9522, 14.2985],
		["2028-03-10", 94.2432, 21.0759],
		["2028-08-27", 195.6764, 33.8284],
		["2029-01-24", 172.4376, 82.0573],
		["2029-06-23", 141.2706, 27.9855],
		["2030-05-09", 249.0123, 62.9208],
		["2031-03-15", 76.5696, -65.9598],
		["2032-10-15", 139.6512, 44.5531],
	];
	const jupiter: readonly (readonly [string, number, number])[] = [
		["2028-04-29", 119.9359, 51.4029],
		["2029-05-14", 120.0392, 32.8538],
		["2029-08-22", 238.1153, 31.3032],
		["2030-07-08", 153.4701, 40.6093],
		["2031-08-12", 158.4469, 35.1695],
		["2032-09-15", 156.4054, 35.1377],
	];
	test.each([
		["moon", moon],
		["Jupiter", jupiter],
	] as const)("%s within 10 arcseconds", (name, rows) => {
		const worst = Math.max(
			...rows.flatMap(([date, azimuth, altitude]) =>
				errorsOf(name, { ...site, at: `${date}T00:00:00Z`, azimuth, altitude }),
			),
		);
		console.log(`${name}: worst ${worst.toFixed(2)}″`);
		expect(worst).toBeLessThan(10);
	});
});

describe("published examples", () => {
	const hours = (h: number, m: number, s: number): number => h + m / 60 + s / 3600;

	test("Meeus 12.a and 12.b: sidereal time at Greenwich", () => {
		const apparent = frameAt(Date.UTC(1987, 3, 10)).siderealRad * (12 / Math.PI);
		expect(Math.abs(apparent - hours(13, 10, 46.1351)) * 3600).toBeLessThan(0.01);
		const frame = frameAt(Date.UTC(1987, 3, 10));
		const later = (siderealRad(frame, Date.UTC(1987, 3, 10, 19, 21)) * (12 / Math.PI)) % 24;
		// 12.b is mean sidereal time: the equation of the equinoxes of 12.a (−0.2317 s) is taken off.
		expect(Math.abs(later - hours(8, 34, 57.0896) + 0.2317 / 3600) * 3600).toBeLessThan(0.02);
	});

	test("polar distance of Polaris and sigma Octantis lies in the ranges of ERFA", () => {
		const ranges: readonly (readonly [string, number, number, number])[] = [
			["Polaris", 2027, 36.862, 37.538],
			["Polaris", 2030, 36.299, 36.951],
			["sigma Octantis", 2027, 69.266, 69.941],
			["sigma Octantis", 2030, 70.184, 70.852],
		];
		for (const [name, year, low, high] of ranges) {
			const body = findBody(name);
			if (!body) throw new Error(name);
			const distances = Array.from({ length: 37 }, (_, i) => {
				const at = Date.UTC(year, 0, 1 + i * 10);
				return (90 - Math.abs(equatorialPlace(body, standAt(0, 0), at, frameAt(at)).declination)) * 60;
			});
			expect(Math.min(...distances)).toBeGreaterThan(low - 0.02);
			expect(Math.max(...distances)).toBeLessThan(high + 0.02);
		}
	});
});
