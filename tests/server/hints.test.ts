import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import type { InlayHint } from "vscode-languageserver";
import { positionOf } from "./client.ts";
import { sample, serve } from "./served.ts";

const SAMPLES = new URL("../../samples/", import.meta.url);
const { client, opened } = serve();

test("inlay hints at the ends of lines", async () => {
	const uri = await opened(sample);
	const hints = await client.request<InlayHint[]>("textDocument/inlayHint", {
		textDocument: { uri },
		range: { start: { line: 0, character: 0 }, end: { line: 1000, character: 0 } },
	});
	const at = (needle: string) =>
		hints.find(({ position }) => position.line === positionOf(sample, sample.indexOf(needle)).line)?.label;
	expect(at("latitude: 32.4123")).toBe("pole hidden: 17.7° below the skyline");
	expect(at("guide-star: eta")).toMatch(/^58\.42°, 000\.6°, misses by 0\.88°$/);
	expect(at("exposure: 90 s")).toMatch(/^sharp tracked up to 2 min 04 s$/);
	expect(at("date: 2027")).toMatch(/^dark 19:06, to 06:06 \(\+1\), Moon 3 %$/);
	for (const { position } of hints)
		expect(sample.split("\n")[position.line]?.slice(position.character).replace(/#.*/, "").trim()).toBe("");
});

test.each(readdirSync(SAMPLES).filter((name) => name.endsWith(".lode.yaml")))(
	"no hint of %s is cut by the editor: its limit is 43 characters in a line",
	async (name) => {
		const uri = await opened(readFileSync(new URL(name, SAMPLES), "utf8"));
		const hints = await client.request<InlayHint[]>("textDocument/inlayHint", {
			textDocument: { uri },
			range: { start: { line: 0, character: 0 }, end: { line: 1000, character: 0 } },
		});
		expect(hints.length).toBeGreaterThan(0);
		expect(hints.map(({ label }) => String(label)).filter((label) => label.length > 43)).toEqual([]);
	},
);

test("those of the targets that are seen are those that are there", async () => {
	const uri = await opened(sample);
	const ask = (from: number, to: number) =>
		client.request<InlayHint[]>("textDocument/inlayHint", {
			textDocument: { uri },
			range: { start: { line: from, character: 0 }, end: { line: to, character: 0 } },
		});
	const second = positionOf(sample, sample.indexOf("- name: core over the gable")).line;
	const all = await ask(0, 1000);
	const seen = await ask(second, second + 5);
	expect(seen.length).toBeGreaterThan(2);
	expect(seen).toEqual(all.filter(({ position: { line } }) => line >= second && line <= second + 8));
});
