/** New Moons by their mean ones, against those of astronomy-engine. */
import { SearchMoonPhase } from "astronomy-engine";
import { expect, test } from "vitest";
import { lunationOf, meanNewMoon } from "../../shared/sky/lunation.ts";

test("1900 to 2100: each new Moon has a number of its own, and is within a day of the mean one", () => {
	let at = Date.UTC(1900, 0, 1);
	let before: number | undefined;
	while (at < Date.UTC(2101, 0, 1)) {
		const found = SearchMoonPhase(0, new Date(at), 40)?.date.getTime();
		if (found === undefined) throw new Error("no new Moon");
		const lunation = lunationOf(found);
		if (before !== undefined) expect(lunation).toBe(before + 1);
		expect(Math.abs(found - meanNewMoon(lunation))).toBeLessThan(86_400_000);
		before = lunation;
		at = found + 86_400_000;
	}
});
