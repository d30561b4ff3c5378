/** Showers: peaks and radiants against the working list of the International Meteor Organization. */
import { expect, test } from "vitest";
import { findShower, isActive, peakNear, radiantAt, SHOWERS, solarLongitude } from "../../shared/sky/showers.ts";
import { fromAngles, RAD, separation } from "../../shared/sky/vector.ts";

/** Code, day of the peak, radiant then: the IMO's working list, as of 2025. Those of the table that are from it are left out. */
const LISTED: readonly (readonly [string, number, number, number, number])[] = [
	["QUA", 1, 4, 230, 49],
	["LYR", 4, 22, 271, 34],
	["ETA", 5, 5, 338, -1],
	["CAP", 7, 30, 307, -10],
	["SDA", 7, 30, 340, -16],
	["PER", 8, 12, 48, 58],
	["DRA", 10, 8, 262, 54],
	["ORI", 10, 22, 95, 16],
	["LEO", 11, 17, 152, 22],
	["GEM", 12, 14, 112, 33],
	["URS", 12, 22, 217, 76],
];

test.each(LISTED)("%s", (code, month, day, rightAscension, declination) => {
	const shower = findShower(code);
	if (!shower) throw new Error(code);
	let worst = 0;
	for (const year of [2025, 2027, 2030]) {
		const listed = Date.UTC(year, month - 1, day, 12);
		const peak = peakNear(shower, listed);
		// The list has whole days, and they move with the leap years.
		expect(Math.abs(peak - listed) / 86_400_000, `${year}`).toBeLessThan(1.6);
		expect(isActive(shower, peak)).toBe(true);
		expect(isActive(shower, peak - 90 * 86_400_000)).toBe(false);
		const radiant = radiantAt(shower, peak);
		worst = Math.max(
			worst,
			separation(
				fromAngles(radiant.rightAscension * RAD, radiant.declination * RAD),
				fromAngles(rightAscension * RAD, declination * RAD),
			),
		);
	}
	expect(worst).toBeLessThan(5);
});

test("the Sun's longitude: 90° at the solstice of June, less precession since 2000", () => {
	// 2027-06-21 14:11 UTC (from memory); general precession 50.29″ a year.
	expect(solarLongitude(Date.UTC(2027, 5, 21, 14, 11))).toBeCloseTo(90 - (27.47 * 50.29) / 3600, 1);
});

test("showers are found however they are written", () => {
	for (const name of ["Geminids", "GEM", "the geminids", "Geminid"]) expect(findShower(name)?.code, name).toBe("GEM");
	for (const name of ["η-Aquariids", "eta Aquarids", "Eta  Aquariids"])
		expect(findShower(name)?.code, name).toBe("ETA");
	expect(findShower("S. Taurids")?.code).toBe("STA");
	expect(findShower("Taurids of the moon")).toBeUndefined();
	expect(new Set(SHOWERS.map(({ code }) => code)).size).toBe(SHOWERS.length);
});
