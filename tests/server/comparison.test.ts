/** The plan in the editor compared with an older text of it. */
import { expect, test } from "vitest";
import { COMPARE, READ_COMMITTED } from "../../shared/protocol/comparison.ts";
import { sample, serve } from "./served.ts";

const { client, opened, fresh } = serve();
const site = /site:\n[\s\S]*?(?=---)/.exec(sample)?.[0] ?? "";
const taking = sample.replace(site, "site:\n  from: sites.lode.yaml\n");
const library = `plan: { title: Sites, kind: library }\n---\n${site}`;

const compared = async (uri: string, text: string): Promise<string | undefined> =>
	(await client.request<{ markdown: string } | null>(COMPARE.method, { uri, text, as: "HEAD" }))?.markdown;

test("what changed since, with what follows; the same plan: nothing", async () => {
	const uri = await opened(sample.replace('at: "20:01"', 'at: "20:20"'));
	const markdown = await compared(uri, sample);
	expect(markdown).toMatch(/^### \d+\.lode\.yaml compared with HEAD\n/);
	expect(markdown).toContain("method/guide-star-not-there");
	expect(markdown).toContain("| method 1 | at | 20:01 | 20:20 |");
	expect(await compared(await opened(sample), sample)).toContain("Nothing changed");
	expect(await compared("file:///plans/closed.lode.yaml", sample)).toBe(undefined);
});

test("what the older text takes from others is asked for as it was committed", async () => {
	const asked: string[] = [];
	client.connection.onRequest(READ_COMMITTED.method, ({ uri }: { uri: string }): object => {
		asked.push(uri);
		return uri.endsWith("/sites.lode.yaml") ? { text: library } : { missing: "not-found" };
	});
	await client.open("file:///plans/sites.lode.yaml", library.replace("[120, 18], [160, 49]", "[120, 60], [160, 70]"));
	const uri = fresh();
	await client.open(uri, taking);
	const markdown = await compared(uri, taking);
	expect(asked).toEqual(["file:///plans/lodebook.lode.yaml", "file:///plans/sites.lode.yaml"]);
	expect(markdown).toContain("target/hidden");
	expect(markdown).not.toContain("**Written**");
});
