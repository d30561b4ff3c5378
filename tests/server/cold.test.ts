/** The first completion of a server that was just started: nothing is remembered, no module has run yet. */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import type { CompletionList } from "vscode-languageserver";
import { positionOf, TestClient } from "./client.ts";

const sample = readFileSync(new URL("../../samples/roofless-chapel.lode.yaml", import.meta.url), "utf8");

const PLACES = [
	["a key of the site", "elevation: 145 m", "$0", /^elevation$/],
	["a good night", "date: 2027-06-05", "date: $0", /^\d{4}-\d{2}-\d{2}$/],
	["a kind of method", "kind: landmark-bearing", "kind: $0", /^sky-bearing$/],
	["a guide star", "guide-star: eta Virginis", "guide-star: $0", /^eta Virginis$/],
	["a clock time", 'at: "20:01"', "at: $0", /^20:02$/],
] as const;

describe("the first completion after a cold start", () => {
	test.each(PLACES)("%s", async (_, line, cut, wanted) => {
		expect(sample).toContain(line);
		const marked = sample.replace(line, cut);
		const text = marked.replace("$0", "");
		const client = await new TestClient().start();
		await client.open("file:///plans/cold.lode.yaml", text);
		const { items } = await client.request<CompletionList>("textDocument/completion", {
			textDocument: { uri: "file:///plans/cold.lode.yaml" },
			position: positionOf(marked, marked.indexOf("$0")),
		});
		expect(items.some(({ label }) => wanted.test(label))).toBe(true);
		await client.stop();
	});
});
