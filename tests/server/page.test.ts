import { expect, test } from "vitest";
import type { PageAnswer } from "../../shared/protocol/page.ts";
import { planWith } from "../plan-text.ts";
import { sample, serve } from "./served.ts";

const { client, opened } = serve();

test("a plan's page, and its style", async () => {
	const uri = await opened(sample);
	const page = await client.request<PageAnswer>("lodebook/page", { uri });
	expect(page.stale).toBe(false);
	expect(page.html).toContain("Core over the roofless chapel");
	expect(await client.request<string>("lodebook/pageStyle", {})).toContain("--paper");
});

test("a plan without a site has none: what was drawn before is to stay", async () => {
	const uri = await opened(planWith({ site: null }));
	expect(await client.request("lodebook/page", { uri })).toEqual({ html: "", stale: true });
});

test("a plan that is not open has none", async () => {
	expect(await client.request("lodebook/page", { uri: "file:///none.lode.yaml" })).toBeNull();
});
