import { expect, test } from "vitest";
import type { DocumentSymbol, Range } from "vscode-languageserver";
import { offsetOf, sample, serve } from "./served.ts";

const { client, opened } = serve();

test("outline, workspace symbols", async () => {
	const uri = await opened(sample);
	const symbols = await client.request<DocumentSymbol[]>("textDocument/documentSymbol", { textDocument: { uri } });
	expect(symbols.map(({ name }) => name)).toEqual([
		"Core over the roofless chapel",
		"Roofless chapel",
		"night",
		"wide",
		"tracker",
		"right-angle laser",
		"bearing from a landmark",
		"targets",
		"note",
	]);
	expect(symbols[1]?.children?.map(({ name }) => name)).toEqual(["water tower"]);
	expect(symbols[7]?.children?.map(({ name }) => name)).toEqual(["gable by last light", "core over the gable"]);
	const within = (outer: Range, inner: Range) =>
		offsetOf(sample, outer.start) <= offsetOf(sample, inner.start) &&
		offsetOf(sample, inner.end) <= offsetOf(sample, outer.end);
	for (const symbol of symbols)
		for (const child of symbol.children ?? [])
			expect(within(symbol.range, child.range) && within(child.range, child.selectionRange)).toBe(true);
	const found = await client.request<{ name: string }[]>("workspace/symbol", { query: "water" });
	expect(found.map(({ name }) => name)).toContain("water tower");
});
