import { expect, test } from "vitest";
import type { PageAnswer } from "../../shared/protocol/page.ts";
import { planWith } from "../plan-text.ts";
import { sample, serve } from "./served.ts";

const { client, opened } = serve();

test("a plan's page, and its style", async () => {
	const uri = await opened(sample);
	const page = await client.request<PageAnswer>("lodebook/page", { uri });
	expect(page.instead).toBe("");
	expect(page.html).toContain("Core over the roofless chapel");
	expect(await client.request<string>("lodebook/pageStyle", {})).toContain("--paper");
});

test("a plan without a site has none: what was found in it, and how to go on", async () => {
	const uri = await opened(planWith({ site: null }));
	const { html, instead } = await client.request<PageAnswer>("lodebook/page", { uri });
	expect(html).toBe("");
	expect(instead).toContain("Not ready");
	expect(instead).toContain("structure/missing-cell");
	expect(instead).toContain("The page needs a site with its latitude and longitude.");
});

test.each([
	[{ night: "date: 2027-13-40" }, "needs a date of the night that can be read."],
	[{ night: null }, "needs a night with its date."],
	[
		{ site: "name: A\nlatitude: [", night: null },
		"a latitude and a longitude of the site that can be read and a night",
	],
])("says of a page what is missing: %j", async (changes, words) => {
	const uri = await opened(planWith(changes));
	expect((await client.request<PageAnswer>("lodebook/page", { uri })).instead).toContain(words);
});

test("a plan that is not open has none", async () => {
	expect(await client.request("lodebook/page", { uri: "file:///none.lode.yaml" })).toBeNull();
});
