import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { planWith } from "../plan-text.ts";
import { serveWorkspace, siteBody, taking } from "./taking.ts";

const { client, folder, uriOf } = serveWorkspace();
let count = 0;

test("a plan whose site and lens stand in other files checks clean, and is told when they change", async () => {
	const uri = uriOf("plans/a.lode.yaml");
	await client.open(uri, taking);
	await expect.poll(async () => (await client.diagnostics(uri)).map(({ code }) => code)).toEqual([]);
	const spot = uriOf("stands/fold.lode.yaml");
	await client.open(spot, siteBody);
	await client.change(spot, [{ text: siteBody.replace("32.4123 S", "32.4123 N") }]);
	await expect.poll(async () => (await client.diagnostics(uri)).map(({ code }) => code)).toContain("site/hemisphere");
});

test("a missing file, a path out of the workspace, a circle: findings, and nothing outside is read", async () => {
	writeFileSync(join(folder, "plans/one.lode.yaml"), "site: { from: two.lode.yaml }\n");
	writeFileSync(join(folder, "plans/two.lode.yaml"), "site: { from: one.lode.yaml }\n");
	for (const [from, words] of [
		["none.lode.yaml", /There is no plan at/],
		["../../../../etc/passwd.lode.yaml", /leads out of the workspace|There is no plan/],
		["/etc/passwd", /Only a relative path/],
		["file:///etc/passwd", /Only a relative path/],
		["one.lode.yaml", /circle/],
	] as const) {
		const uri = uriOf(`plans/b${++count}.lode.yaml`);
		await client.open(uri, planWith({ site: `from: ${from}` }));
		await expect
			.poll(async () => (await client.diagnostics(uri)).find(({ code }) => code === "reuse/cannot-take")?.message ?? "")
			.toMatch(words);
	}
});
