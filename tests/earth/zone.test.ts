import { Temporal } from "temporal-polyfill";
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

test("offsets are those of the zone, in whatever order they are asked for", () => {
	let seed = 7;
	const random = (): number => {
		seed = (seed * 48_271) % 2_147_483_647;
		return seed / 2_147_483_647;
	};
	for (const zone of ["Europe/Rome", "Australia/Lord_Howe", "Africa/Johannesburg", "Asia/Gaza", "America/Santiago"])
		for (let i = 0; i < 400; i++) {
			const at = Date.UTC(1900, 0, 1) + Math.floor(random() * (Date.UTC(2101, 0, 1) - Date.UTC(1900, 0, 1)));
			const expected = Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone).offsetNanoseconds / 1e6;
			expect([zone, at, offsetAt(zone, at)]).toEqual([zone, at, expected]);
		}
});
