import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { eveningIn } from "../../client/evening.ts";

describe.each([
	["Pacific/Auckland", "2027-06-05T13:00:00Z", "2027-06-06", "2027-06-07"],
	["America/Los_Angeles", "2027-06-06T02:00:00Z", "2027-06-05", "2027-06-06"],
	["UTC", "2027-12-31T12:00:00Z", "2027-12-31", "2028-01-01"],
	// The clocks go back that night: a day has 25 hours.
	["Europe/Berlin", "2027-10-30T22:30:00Z", "2027-10-31", "2027-11-01"],
])("in %s at %s", (zone, now, today, tomorrow) => {
	const before = process.env.TZ;
	beforeAll(() => {
		process.env.TZ = zone;
	});
	afterAll(() => {
		if (before === undefined) delete process.env.TZ;
		else process.env.TZ = before;
	});

	test("today and tomorrow are those of the calendar there", () => {
		expect([0, 1].map((days) => eveningIn(days, new Date(now)))).toEqual([today, tomorrow]);
	});
});
