import { expect, test } from "vitest";
import { goodNights } from "../../shared/evaluate/good-nights.ts";
import { dateText } from "../../shared/notation/date.ts";
import { readPlan } from "../../shared/plan/plan.ts";
import { planWith } from "../plan-text.ts";

const nights = (text: string, today: string): readonly string[] => {
	const [year = 0, month = 0, day = 0] = today.split("-").map(Number);
	return goodNights(readPlan(text), { year, month, day }).map(({ date }) => dateText(date));
};
const site = "site:\n  name: A\n  latitude: 47.1 N\n  longitude: 8.7 E\n";

test("around the next new Moon, in order, none before today", () => {
	const found = nights(site, "2027-06-01");
	expect(found).toEqual([...found].sort());
	expect(found.length).toBeGreaterThan(3);
	// The samples have a Moon of 2 % on 2027-06-05: the nights about that are dark, and the short ones of midsummer too.
	for (const date of found) expect(date >= "2027-06-01" && date <= "2027-06-30", date).toBe(true);
	expect(found.some((date) => date <= "2027-06-10")).toBe(true);
});

test("where the target is not up for months, the first nights on which it is", () => {
	const plan = planWith({});
	const [first = ""] = nights(plan, "2026-11-26");
	expect(first > "2027-01-25" && first < "2027-07-01", first).toBe(true);
	expect(nights(plan, "2027-06-01").every((date) => date < "2027-08-01")).toBe(true);
});

test("cells that are only begun rule no night out; without a place there is none", () => {
	const begun = `${site}---\nmethod:\n  kind:\n---\ntargets:\n  - name: a\n`;
	expect(nights(begun, "2027-06-01")).toEqual(nights(site, "2027-06-01"));
	expect(nights("night:\n  date: 2027-06-05\n", "2027-06-01")).toEqual([]);
});
