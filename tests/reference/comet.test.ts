/** Comets against PyEphem, an integration of Newton's law with ERFA, and a worked example. */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { astrometricPlace, heliocentric } from "../../shared/sky/comet.ts";
import { readCometLine } from "../../shared/sky/comet-line.ts";
import { apart } from "../../shared/sky/horizontal.ts";
import { airlessDirection, findBody, type SkyBody } from "../../shared/sky/place.ts";
import { fromAngles, length, RAD, separation } from "../../shared/sky/vector.ts";

interface Case {
	readonly line: string;
	readonly places: readonly {
		readonly days: number;
		/** Seconds from 2000-01-01 00:00 UTC. */
		readonly utc: number;
		readonly latitude: number;
		readonly longitude: number;
		readonly azimuth: number;
		readonly altitude: number;
		readonly ephem: readonly [number, number];
	}[];
}
const cases = JSON.parse(readFileSync(new URL("comet-cases.json", import.meta.url), "utf8")) as readonly Case[];
const instant = (utc: number): number => Date.UTC(2000, 0, 1) + utc * 1000;
const air = { pressure: 1013, temperature: 10 };

describe("comets over 200 days around perihelion", () => {
	test.each(cases)("$line", ({ line, places }) => {
		const body = findBody(line) as Extract<SkyBody, { type: "comet" }>;
		let [worst, worstEphem] = [0, 0];
		for (const { utc, latitude, longitude, azimuth, altitude, ephem } of places) {
			const at = instant(utc);
			const direction = airlessDirection(body, { latitude, longitude, elevation: 0, air }, at);
			worst = Math.max(worst, apart(direction, { azimuth, altitude }) * 3600);
			const { rightAscension, declination } = astrometricPlace(body.elements, at);
			const [ra, dec] = ephem;
			const off = separation(fromAngles(rightAscension * RAD, declination * RAD), fromAngles(ra * RAD, dec * RAD));
			worstEphem = Math.max(worstEphem, off * 3600);
		}
		console.log(
			`${line.slice(102)}: ${worst.toFixed(2)}″ from the integration, ${worstEphem.toFixed(2)}″ from PyEphem`,
		);
		expect(worst).toBeLessThan(10);
		expect(worstEphem).toBeLessThan(10);
	});
});

/** Elements of an orbit, in brief. */
const orbit = (q: number, e: number) => ({
	name: "",
	perihelion: 9000,
	perihelionDistance: q,
	eccentricity: e,
	argument: 10,
	node: 20,
	inclination: 30,
	epoch: undefined,
	magnitude: undefined,
	slope: undefined,
});

test("Encke's comet, J. Meeus, Astronomical Algorithms, example 33.a (elements and result from memory)", () => {
	const encke = {
		...orbit(2.2091404 * (1 - 0.8502196), 0.8502196),
		perihelion: Date.UTC(1990, 9, 28) / 86_400_000 + 0.54502 - 10_957.5,
		argument: 186.23352,
		node: 334.75006,
		inclination: 11.94524,
	};
	// October 6.0 TT, of which UTC was 57.2 s behind.
	const { rightAscension, declination, distance } = astrometricPlace(encke, Date.UTC(1990, 9, 6) - 57_200);
	expect(Math.abs(rightAscension - 158.558965)).toBeLessThan(0.0003);
	expect(Math.abs(declination - 19.158496)).toBeLessThan(0.0003);
	expect(distance).toBeCloseTo(0.8242811, 5);
});

test("nothing jumps where an ellipse becomes a parabola and a hyperbola", () => {
	for (const q of [0.004, 0.4, 5])
		for (const days of [-4000, -90, -0.01, 0, 0.5, 90, 20_000]) {
			const places = [1 - 1e-10, 1, 1 + 1e-10].map((e) => heliocentric(orbit(q, e), 9000 + days));
			const [a, b, c] = places as [(typeof places)[0], (typeof places)[0], (typeof places)[0]];
			const size = length(b);
			expect(length([a[0] - b[0], a[1] - b[1], a[2] - b[2]]) / size).toBeLessThan(1e-6);
			expect(length([c[0] - b[0], c[1] - b[1], c[2] - b[2]]) / size).toBeLessThan(1e-6);
		}
});

test("every orbit that a line can hold has a place at every time", () => {
	for (const q of [0.001, 0.1, 1, 100])
		for (const e of [0, 0.5, 0.999999, 1, 1.000001, 2, 10])
			for (const days of [-2.9e6, -1e4, -1, 0, 1e-9, 1, 365, 1e4, 4e5]) {
				const place = heliocentric(orbit(q, e), 9000 + days);
				expect(place.every(Number.isFinite), `${q} ${e} ${days}`).toBe(true);
				// Never nearer to the Sun than at perihelion.
				expect(length(place)).toBeGreaterThan(q * (1 - 1e-9));
			}
});

const LINE = (cases[3] as Case).line;
/** The line with a text put over it from a column on, from 1. */
const over = (column: number, text: string): string =>
	LINE.slice(0, column - 1) + text + LINE.slice(column - 1 + text.length);

describe("a line", () => {
	test("is read without the spaces at its start, with a number, without epoch, magnitude and name", () => {
		const whole = readCometLine(LINE);
		expect(whole).toMatchObject({
			ok: true,
			elements: { eccentricity: 0.9998, epoch: 10_012.5, name: "C/2027 X4 (nearly a parabola, closed)" },
		});
		expect(readCometLine(LINE.trim())).toEqual(whole);
		expect(readCometLine(`0012P${" ".repeat(7)}${LINE.slice(12)}`)).toEqual(whole);
		expect(readCometLine(`12P${" ".repeat(7)}${LINE.slice(12)}`)).toEqual(whole);
		expect(readCometLine(LINE.slice(0, 79))).toMatchObject({
			ok: true,
			elements: { name: "CK27X040", epoch: undefined },
		});
	});

	test.each([
		["year", over(15, "20x7"), 15, 18, "20x7"],
		["month", over(20, "13"), 20, 21, "13"],
		["day", over(23, "20     "), 23, 29, "20     "],
		["day", over(20, "02 30.0000"), 23, 29, "30.0000"],
		["distance", over(31, " 0.000000"), 31, 39, " 0.000000"],
		["eccentricity", over(42, "0.99 800"), 42, 49, "0.99 800"],
		["argument", over(52, "380.0000"), 52, 59, "380.0000"],
		["node", over(62, "        "), 62, 69, "        "],
		["inclination", over(72, "190.0000"), 72, 79, "190.0000"],
		["epoch", over(82, "20271301"), 82, 89, "20271301"],
		["magnitude", over(92, " x.0"), 92, 95, " x.0"],
		[undefined, over(40, "7"), 40, 40, "7"],
		// A blank too few: what follows slides into a column that has to be blank.
		[undefined, LINE.replace("  0.412000", " 0.412000"), 41, 41, "0"],
	])("names the column of a wrong %s", (field, line, from, to, got) => {
		const reading = readCometLine(line);
		expect(reading.ok).toBe(false);
		if (!reading.ok) expect(reading.problem).toMatchObject({ field, from, to, got });
	});
});
