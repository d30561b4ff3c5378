import { expect, test } from "vitest";
import { isZone, offsetAt } from "../../shared/earth/zone.ts";

test.each(["Europe/Rome", "europe/rome", "UTC", "Etc/GMT+5", "EST5EDT", "Asia/Calcutta", "+02:00"])(
	"%s is a zone",
	(name) => expect(isZone(name)).toBe(true),
);

test.each(["", "Rome", "Europe/Nowhere", "ACT", "+24:00", "2020-01-01T00:00[Europe/Rome]", "2020-01-01T00:00Z"])(
	"'%s' is not a zone",
	(name) => {
		expect(isZone(name)).toBe(false);
		expect(() => offsetAt(name, 0)).toThrow(RangeError);
	},
);

test("offsets at any instant, fractions and instants before 1970 included", () => {
	expect(offsetAt("Africa/Johannesburg", 0.5)).toBe(7_200_000);
	expect(offsetAt("Europe/Rome", -1.5)).toBe(3_600_000);
	expect(offsetAt("+02:00", 1e12)).toBe(7_200_000);
});
