/** Time zones against another reading of the same tables: Temporal's. */
import { Temporal } from "temporal-polyfill";
import { describe, expect, test } from "vitest";
import { isZone, offsetAt } from "../../shared/earth/zone.ts";

const DAY_MS = 86_400_000;
const offsetByTemporal = (zone: string, at: number): number =>
	Temporal.Instant.fromEpochMilliseconds(Math.floor(at)).toZonedDateTimeISO(zone).offsetNanoseconds / 1e6;

/** Every tenth zone of the runtime's, and those whose clocks were changed twice in the shortest time. */
const zones = [
	...Intl.supportedValuesOf("timeZone").filter((_, i) => i % 10 === 3),
	"Asia/Gaza",
	"America/Boa_Vista",
	"Africa/Casablanca",
	"Australia/Lord_Howe",
];

describe("offsets", () => {
	test("around each change of a zone, 1880 to 2101, are those of Temporal", () => {
		let changes = 0;
		let shortest = Number.POSITIVE_INFINITY;
		for (const zone of zones) {
			let before = Number.NaN;
			let at = Temporal.Instant.fromEpochMilliseconds(Date.UTC(1880, 0, 1)).toZonedDateTimeISO(zone);
			for (;;) {
				const next = at.getTimeZoneTransition("next");
				if (!next || next.epochMilliseconds > Date.UTC(2101, 0, 1)) break;
				const change = next.epochMilliseconds;
				for (const away of [-5 * DAY_MS, -DAY_MS, -1000, -1, 0, 0.5, 1000, DAY_MS, 5 * DAY_MS])
					expect([zone, change, away, offsetAt(zone, change + away)]).toEqual([
						zone,
						change,
						away,
						offsetByTemporal(zone, change + away),
					]);
				if (change - before < shortest) shortest = change - before;
				before = change;
				changes++;
				at = next;
			}
		}
		console.log(
			`${changes} changes of ${zones.length} zones, the nearest two ${(shortest / DAY_MS).toFixed(1)} days apart`,
		);
		expect(changes).toBeGreaterThan(1000);
		expect(shortest).toBeGreaterThan(4 * DAY_MS);
	}, 120_000);

	test("long ago and far ahead", () => {
		for (const at of [-1e14, Date.UTC(1700, 5, 1), Date.UTC(2500, 6, 1), Date.UTC(9999, 0, 1)])
			for (const zone of ["Europe/Rome", "Africa/Monrovia", "Pacific/Apia"])
				expect([zone, at, offsetAt(zone, at)]).toEqual([zone, at, offsetByTemporal(zone, at)]);
	});

	test("a fixed offset is a zone", () => {
		expect(offsetAt("+05:30", 0)).toBe(19_800_000);
		expect(offsetAt("-0930", 1e12)).toBe(-34_200_000);
		expect(offsetAt("+02", 1e12)).toBe(7_200_000);
	});
});

test("a zone is what the tables have, in any case, or a fixed offset", () => {
	for (const name of [
		"Europe/Rome",
		"europe/rome",
		"UTC",
		"Etc/GMT+5",
		"EST5EDT",
		"US/Pacific",
		"Asia/Calcutta",
		"HST",
		"-23:59",
	])
		expect([name, isZone(name)]).toEqual([name, true]);
	for (const name of ["", "Europe/Nowhere", "ACT", "+24:00", "+2", "+01:60", "2020-01-01T00:00[Europe/Rome]", "Rome"])
		expect([name, isZone(name)]).toEqual([name, false]);
	expect(() => offsetAt("Europe/Nowhere", 0)).toThrow(RangeError);
});
