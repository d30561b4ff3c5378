import { expect, test } from "vitest";
import { serve } from "./served.ts";

const { client } = serve();

test("the explanation of a finding is served", async () => {
	expect(await client.request<string>("lodebook/explanation", { code: "method/low-latitude" })).toContain(
		"# Right-angle laser too close to the equator",
	);
	expect(await client.request<string>("lodebook/explanation", { code: "no/such" })).toContain("Unknown finding");
});
