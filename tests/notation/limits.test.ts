/** The most that holds is never shown as more. */
import { expect, test } from "vitest";
import { degrees, largestDegrees } from "../../shared/notation/angle.ts";
import { durationText, longestText } from "../../shared/notation/duration.ts";
import { withUnit } from "../../shared/notation/limits.ts";
import { checkText, planWith } from "../plan-text.ts";

test.each([
	[12.57, "12 s", "13 s"],
	[0.268, "0.26 s", "0.27 s"],
	[0.0268, "0.026 s", "0.027 s"],
	[9.96, "9.9 s", "10 s"],
	[12, "12 s", "12 s"],
	[2.3, "2.3 s", "2.3 s"],
	[119.7, "1 min 59 s", "2 min"],
	[3599.9, "59 min 59 s", "1 h 00 min"],
	[7199, "1 h 59 min", "2 h 00 min"],
	[0, "0 s", "0 s"],
])("%d seconds at most are %s, and in themselves %s", (seconds, most, itself) => {
	expect(longestText(seconds)).toBe(most);
	expect(durationText(seconds)).toBe(itself);
});

test("angles: rounded down as limits, and no minus before a zero", () => {
	expect(largestDegrees(0.158)).toBe("0.15°");
	expect(largestDegrees(1.29)).toBe("1.2°");
	expect(largestDegrees(0.3, 2)).toBe("0.30°");
	expect(degrees(-0.004, 2)).toBe("0.00°");
	expect(degrees(-0.02, 1)).toBe("0.0°");
	expect(degrees(-0.02)).toBe("−0.02°");
});

test.each([
	[600, "s", "10 min"],
	[21_600, "s", "6 h"],
	[30, "s", "30 s"],
	[100, "s", "100 s"],
	[0, "s", "0 s"],
	[100_000, "m", "100 km"],
	[-500, "m", "-500 m"],
	[9000, "m", "9000 m"],
	[90, "°", "90°"],
	[4, "", "4"],
])("the limit %d %s is told as %s", (value, unit, shown) => expect(withUnit(value, unit)).toBe(shown));

test("what is out of range is told its limits, and offered one, as a person writes them", () => {
	const site = "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 54.3622 W\nplace: [shore]\nway-open: 8 h";
	const found = checkText(planWith({ site })).find(({ code }) => code === "structure/out-of-range");
	expect(found?.message).toBe("`8 h` is out of range; use at least 10 min and at most 6 h.");
	expect(found?.fixes.map(({ title }) => title)).toEqual(["Change to 6 h"]);
});
