import { expect, test } from "vitest";
import type { PlaceAnswer } from "../../shared/protocol/new-plan.ts";
import { codesOf } from "../plan-text.ts";
import { serve } from "./served.ts";

const { client } = serve();

const place = (text: string): Promise<PlaceAnswer | null> => client.request("lodebook/place", { text });
const problem = (kind: string, key: string, text: string): Promise<string | null> =>
	client.request("lodebook/checkValue", { kind, key, text });

test("a place from pasted coordinates, with its zone and its next good nights", async () => {
	const found = await place(`47°06'28.1"N 8°40'55.2"E`);
	expect(found).toMatchObject({ latitude: expect.closeTo(47.107806, 5), longitude: expect.closeTo(8.682, 5) });
	expect(found?.told).toBe("47.107806 N, 8.682 E, Europe/Zurich");
	expect(found?.nights.length).toBeGreaterThan(2);
	for (const { date, about } of found?.nights ?? []) {
		expect(date).toMatch(/^\d{4}-\d{2}-\d{2}$/);
		expect(about).toMatch(/^\d+ h \d\d min dark and moonless, Moon illumination \d+ %$/);
	}
	for (const text of ["91.5 N, 8 E", "47", "", "here", "9".repeat(500)]) expect(await place(text), text).toBe(null);
});

test("each answer is checked by the key it is for", async () => {
	expect(await problem("night", "date", "2027-06-31")).toContain("is not a real date");
	expect(await problem("night", "date", "2027-06-30")).toBe(null);
	expect(await problem("lens", "focal-length", "24")).toContain("has no unit");
	expect(await problem("lens", "focal-length", "24 mm")).toBe(null);
	expect(await problem("lens", "f-number", "2.8")).toBe(null);
	expect(await problem("site", "name", "  ")).toContain("empty");
	expect(await problem("site", "name", "a: b # c")).toBe(null);
	expect(await problem("tracker", "head", "gear")).not.toBe(null);
	expect(await problem("constructor", "head", "gear")).toBe(null);
});

test("the plan is clean, its file's name has nothing in it that a file's name may not have", async () => {
	const wishes = {
		title: "Night at Überhang: east",
		site: "Überhang: east / north",
		latitude: 46.6,
		longitude: 12.1,
		date: "2027-10-01",
		kit: { "focal-length": "24 mm", "f-number": "2", sensor: "full-frame", pixels: "6000 x 4000", head: "geared" },
		tracked: true,
	};
	const plan = await client.request<{ text: string; file: string }>("lodebook/newPlan", wishes);
	expect(codesOf(plan.text)).toEqual([]);
	expect(plan.file).toBe("2027-10-01-überhang-east-north");
	expect(await client.request("lodebook/newPlan", { ...wishes, date: "2027-02-30" })).toBe(null);
	expect(await client.request("lodebook/newPlan", { ...wishes, latitude: Number.NaN })).toBe(null);
});

test("a plan to fill in has what the kit knows, and gaps for the rest", async () => {
	const text = await client.request<string>("lodebook/planToFill", {
		kit: { "focal-length": "24 mm", "f-number": "2.8", sensor: "x: y", pixels: 3, head: "geared" },
	});
	expect(text).toContain("lens:\n  focal-length: 24 mm\n  f-number: 2.8\n  sensor: $6\n  pixels: $7\n");
	expect(text).toContain("tracker:\n  head: geared\n");
});
