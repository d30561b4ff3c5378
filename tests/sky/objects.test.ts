/** Objects and constellations: their spellings, and their places against published ones. */
import { describe, expect, test } from "vitest";
import { readQuantity } from "../../shared/notation/quantity.ts";
import { objectName, objectOf, objectText } from "../../shared/notation/sky-object.ts";
import { fromGalactic } from "../../shared/sky/galactic.ts";
import { findObject, objectSpellings, skyObjects } from "../../shared/sky/objects.ts";
import { airlessDirection, allNames, findBody, type SkyBody } from "../../shared/sky/place.ts";
import { fromAngles, RAD, separation } from "../../shared/sky/vector.ts";
import { nearestWord } from "../../shared/text/nearest.ts";

const angle = (text: string, name: "right-ascension" | "declination"): number => {
	const read = readQuantity(text, name);
	if (!read.ok) throw new Error(text);
	return read.value;
};
const apart = (a: readonly [number, number], b: readonly [number, number]): number =>
	separation(fromAngles(a[0] * RAD, a[1] * RAD), fromAngles(b[0] * RAD, b[1] * RAD));

/** J2000, after SIMBAD; from memory. */
const PUBLISHED: readonly (readonly [string, string, string])[] = [
	["M1", "05:34:31.9", "+22:00:52"],
	["M4", "16:23:35.2", "-26:31:33"],
	["M8", "18:03:37", "-24:23:12"],
	["M13", "16:41:41.2", "+36:27:36"],
	["M22", "18:36:23.9", "-23:54:17"],
	["M27", "19:59:36.3", "+22:43:16"],
	["M31", "00:42:44.3", "+41:16:08"],
	["M33", "01:33:50.9", "+30:39:36"],
	["M42", "05:35:17", "-05:23:28"],
	["M45", "03:47:00", "+24:07:00"],
	["M51", "13:29:52.7", "+47:11:43"],
	["M57", "18:53:35.1", "+33:01:45"],
	["M81", "09:55:33.2", "+69:03:55"],
	["M87", "12:30:49.4", "+12:23:28"],
	["M101", "14:03:12.5", "+54:20:56"],
	["M104", "12:39:59.4", "-11:37:23"],
	["47 Tuc", "00:24:05.7", "-72:04:53"],
	["NGC 253", "00:47:33.1", "-25:17:18"],
	["omega Centauri", "13:26:47.2", "-47:28:46"],
	["Centaurus A", "13:25:27.6", "-43:01:09"],
	["Eta Carinae Nebula", "10:45:03.6", "-59:51:58"],
	["Helix Nebula", "22:29:38.6", "-20:50:14"],
	["LMC", "05:23:34.5", "-69:45:22"],
	["SMC", "00:52:44.8", "-72:49:43"],
	["Horsehead Nebula", "05:40:59", "-02:27:30"],
];

describe("objects", () => {
	test("are within 1′ of published places", () => {
		let worst = 0;
		for (const [name, ra, dec] of PUBLISHED) {
			const found = findObject(name);
			const off = found
				? 60 *
					apart([found.rightAscension, found.declination], [angle(ra, "right-ascension"), angle(dec, "declination")])
				: Number.NaN;
			expect(off, name).toBeLessThan(1);
			worst = Math.max(worst, off);
		}
		console.log(`objects: worst of ${PUBLISHED.length} published places ${worst.toFixed(2)}′`);
	});

	test("are found however they are written, and say what they are", () => {
		const m42 = findBody("M42");
		for (const name of ["m 42", "Messier 42", "NGC1976", "ngc 1976", "the Orion nebula", "orion-nebula"])
			expect(findBody(name), name).toEqual(m42);
		expect(findBody("ω Cen")).toEqual(findBody("NGC 5139"));
		expect(findBody("Bootes")).toEqual(findBody("Boötes"));
		for (const name of ["M0", "M111", "M", "NGC", "NGC 0", "Earth", "", "Nebula"])
			expect(findObject(name)).toBe(undefined);
		const object = objectOf(m42);
		expect(object && [objectName(object), objectText(object)]).toEqual([
			"Orion Nebula (M42)",
			"nebula, 85′ × 60′, magnitude 4.0",
		]);
	});

	test("all of Messier's, all constellations; every spelling finds its object, and each has a place of the sky", () => {
		for (let n = 1; n <= 110; n++) expect(findObject(`M${n}`), `M${n}`).toBeDefined();
		expect(skyObjects().filter(({ kind }) => kind === "constellation")).toHaveLength(89);
		for (const object of skyObjects()) {
			for (const spelling of object.spellings) {
				const found = findObject(spelling);
				expect(found?.spellings.includes(spelling), spelling).toBe(true);
			}
			expect(object.rightAscension).toBeGreaterThanOrEqual(0);
			expect(object.rightAscension).toBeLessThan(360);
			expect(Math.abs(object.declination)).toBeLessThan(90);
			expect(object.size.every((size) => size > 0)).toBe(true);
		}
		expect(objectSpellings().length).toBeGreaterThan(600);
	});

	test("a mistyped one gets the nearest of all names", () => {
		expect(nearestWord("Pleides", allNames())).toBe("Pleiades");
		expect(nearestWord("NGC 700", allNames())).toBe("NGC 7000");
		expect(nearestWord("north-celestal-pole", allNames())).toBe("north-celestial-pole");
	});
});

describe("places", () => {
	test("the celestial poles are as high as the latitude, north and south", () => {
		const spot = { latitude: -33, longitude: 20, elevation: 0, air: { pressure: 1010, temperature: 10 } };
		const at = Date.UTC(2027, 5, 5, 22);
		const south = airlessDirection(findBody("south-celestial-pole") as SkyBody, spot, at);
		expect(south.altitude).toBeCloseTo(33, 3);
		expect(south.azimuth).toBeCloseTo(180, 3);
		expect(airlessDirection(findBody("North celestial pole") as SkyBody, spot, at).altitude).toBeCloseTo(-33, 3);
	});

	test("galactic coordinates: centre and north pole, J2000 (Hipparcos Catalogue, vol. 1, 1.5.3; Sgr A* 0.07° off)", () => {
		expect(apart(Object.values(fromGalactic(0, 0)) as [number, number], [266.405, -28.936])).toBeLessThan(0.001);
		const pole = fromGalactic(0, 90);
		expect(apart([pole.rightAscension, pole.declination], [192.85948, 27.12825])).toBeLessThan(1e-6);
	});

	test("right ascension and declination in every notation", () => {
		const ra = 15 * (5 + 35 / 60 + 17 / 3600);
		for (const text of ["5h 35m 17s", "5h35m17s", "05:35:17", "5:35:17.0"])
			expect(angle(text, "right-ascension"), text).toBeCloseTo(ra, 9);
		expect(angle("12.5 h", "right-ascension")).toBeCloseTo(187.5, 9);
		const dec = -(5 + 23 / 60 + 28 / 3600);
		for (const text of ["-5° 23′ 28″", "-05:23:28", "−5:23:28", "-5°23'28\""])
			expect(angle(text, "declination"), text).toBeCloseTo(dec, 9);
		expect(angle("-0:30", "declination")).toBeCloseTo(-0.5, 9);
		for (const text of ["5:60:00", "5:35:61", "5:", ":5", "5:35:17:1"])
			expect(readQuantity(text, "declination").ok, text).toBe(false);
	});
});
