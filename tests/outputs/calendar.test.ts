/** The calendar as another program reads it (ical.js): every event at the instant of its step, whatever the clock does. */
import ical from "ical.js";
import { describe, expect, test } from "vitest";
import { createEvaluator, evaluate } from "../../shared/evaluate/evaluate.ts";
import { exampleText } from "../../shared/findings/example-plan.ts";
import { calendarText } from "../../shared/outputs/calendar/calendar.ts";
import { eveningRows } from "../../shared/outputs/evening.ts";
import { readPlan } from "../../shared/plan/plan.ts";
import { PlanJoiner } from "../../shared/plan/reuse.ts";
import { evaluateText, planWith } from "../plan-text.ts";

const STAMP = Date.UTC(2027, 0, 1);

interface Read {
	readonly uid: string;
	readonly start: number;
	readonly end: number;
	readonly zone: string;
}

const read = (text: string | undefined): readonly Read[] =>
	new ical.Component(ical.parse(text ?? "")).getAllSubcomponents("vevent").map((one) => {
		const event = new ical.Event(one);
		const { startDate, endDate } = event;
		return {
			uid: event.uid,
			start: startDate.toJSDate().getTime(),
			end: endDate.toJSDate().getTime(),
			zone: startDate.zone.tzid,
		};
	});

const at = (zone: string, date: string) =>
	planWith({
		site: `name: Field\nlatitude: 32.4123 S\nlongitude: 54.3622 W\ntimezone: ${zone}`,
		night: `date: ${date}\narrive: "17:00"\nleave: "04:00"`,
		method: "kind: compass",
		// A wall, whatever the sky does: its frames end in the second of two hours that are the same on the clock.
		targets: WALL.map(
			(from) => `- name: wall ${from}\n  aim: { azimuth: 180, altitude: 30 }\n  tracked: false\n${SERIES}"${from}"`,
		).join("\n"),
	});

const WALL = ["20:40", "00:40", "01:20", "02:40"];
const SERIES = "  exposure: 90 s\n  frames: 17\n  gap: 5 s\n  from: ";
const SECOND_MS = 1000;

describe("times", () => {
	// A rule in each half of the year, half an hour of summer time, summer time that ends for a month of fasting, none at
	// all, a change at midnight, days before and after a change, and the nights of the changes themselves.
	test.each([
		["Europe/Rome", "2027-06-05"],
		["Europe/Rome", "2027-12-31"],
		["Europe/Rome", "2027-03-27"],
		["Europe/Rome", "2027-10-30"],
		["Europe/Dublin", "2027-10-30"],
		["America/New_York", "2027-11-06"],
		["America/New_York", "2027-03-13"],
		["Australia/Sydney", "2027-01-15"],
		["Australia/Lord_Howe", "2027-04-03"],
		["Australia/Lord_Howe", "2027-10-02"],
		["America/Santiago", "2027-04-03"],
		["America/Santiago", "2027-09-04"],
		["Africa/Casablanca", "2027-02-06"],
		["Africa/Casablanca", "2027-03-13"],
		["America/Montevideo", "2027-06-05"],
		["Asia/Kathmandu", "2027-06-05"],
		["Pacific/Chatham", "2027-04-03"],
		["Etc/GMT+5", "2027-06-05"],
		["UTC", "2027-06-05"],
		["+02:00", "2027-06-05"],
	])("%s, %s: the instants of the steps", (zone, date) => {
		const evaluation = evaluateText(at(zone, date));
		const steps = (evaluation.evening?.steps ?? []).filter(({ kind }) => kind !== "wait");
		const events = read(calendarText(evaluation, STAMP));
		expect(steps.length).toBeGreaterThan(4);
		expect(events.map(({ start }) => start)).toEqual(steps.map(({ from }) => Math.floor(from / SECOND_MS) * SECOND_MS));
		expect(events.map(({ end }) => end)).toEqual(
			steps.map(({ from, until }) => Math.floor(Math.max(until, from + 60_000) / SECOND_MS) * SECOND_MS),
		);
		if (!/^UTC|^\+/.test(zone)) expect(events[0]?.zone).toBe(zone);
	});

	test("an hour that the clock shows twice is in UTC", () => {
		const zones = new Set(
			read(calendarText(evaluateText(at("Europe/Rome", "2027-10-30")), STAMP)).map(({ zone }) => zone),
		);
		expect(zones).toEqual(new Set(["Europe/Rome", "UTC"]));
	});

	test("a zone with rules has them, one without says its changes, one without changes its offset", () => {
		const block = (zone: string): string => calendarText(evaluateText(at(zone, "2027-06-05")), STAMP) ?? "";
		expect(block("Europe/Rome")).toMatch(
			/RRULE:FREQ=YEARLY;BYMONTH=3;BYDAY=-1SU\r\nTZOFFSETFROM:\+0100\r\nTZOFFSETTO:\+0200/,
		);
		expect(block("America/New_York")).toMatch(/BYMONTH=3;BYDAY=2SU[\s\S]*BYMONTH=11;BYDAY=1SU/);
		expect(block("Africa/Casablanca")).not.toContain("RRULE");
		expect(block("Africa/Casablanca").match(/BEGIN:(?:STANDARD|DAYLIGHT)/g)?.length).toBeGreaterThan(10);
		expect(block("Asia/Kathmandu").match(/BEGIN:(?:STANDARD|DAYLIGHT)/g)).toEqual(["BEGIN:STANDARD"]);
		expect(block("Asia/Kathmandu")).toContain("TZOFFSETTO:+0545");
		expect(block("UTC")).not.toContain("VTIMEZONE");
	});
});

describe("what is it called", () => {
	const joined = (text: string, path: string) =>
		evaluate(new PlanJoiner().join(readPlan(text), path, () => ({ missing: "not-found" })));
	const ids = (text: string, path = "plans/field.lode.yaml"): readonly string[] =>
		read(calendarText(joined(text, path), STAMP)).map(({ uid }) => uid);
	const text = at("Europe/Rome", "2027-06-05");

	test("a step keeps its name when the plan's date or title changes", () => {
		const known = ids(text);
		expect(new Set(known).size).toBe(known.length);
		expect(ids(at("Europe/Rome", "2027-06-06"))).toEqual(known);
		expect(ids(`plan:\n  title: Another\n---\n${text.slice(text.indexOf("site:"))}`)).toEqual(known);
	});

	test("another plan has others, in another file or of another site", () => {
		const known = new Set(ids(text));
		expect(ids(text, "plans/other.lode.yaml").filter((uid) => known.has(uid))).toEqual([]);
		expect(ids(text.replace("name: Field", "name: Meadow")).filter((uid) => known.has(uid))).toEqual([]);
	});
});

test("of a group it has the rows of the sheet", () => {
	const none = { lens: null, tracker: null, method: null, targets: null } as const;
	const group = exampleText({
		...none,
		plan: "title: At the fold\nkind: group",
		group: "- { name: Nia, from: kit.lode.yaml }",
	});
	const kit = exampleText({ site: null, night: null });
	const evaluation = createEvaluator()(
		new PlanJoiner().join(readPlan(group), "group.lode.yaml", () => ({ plan: readPlan(kit) })),
	);
	const text = calendarText(evaluation, STAMP) ?? "";
	const rows = eveningRows(evaluation);
	expect(rows.length).toBeGreaterThan(5);
	expect(read(text).map(({ start }) => start)).toEqual(rows.map(({ at }) => Math.floor(at / SECOND_MS) * SECOND_MS));
	expect(text).toContain("SUMMARY:Head count on arriving: 1");
	expect(text).toContain("SUMMARY:Nia: ");
});
