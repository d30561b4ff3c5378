import { expect, test } from "vitest";
import type { FoldingRange, SelectionRange } from "vscode-languageserver";
import { positionOf } from "./client.ts";
import { offsetOf, sample, serve } from "./served.ts";

const { client, opened } = serve();

test("folding, selection", async () => {
	const uri = await opened(sample);
	const folds = await client.request<FoldingRange[]>("textDocument/foldingRange", { textDocument: { uri } });
	const line = (needle: string) => positionOf(sample, sample.indexOf(needle)).line;
	expect(folds).toContainEqual({ startLine: line("site:"), endLine: line("- { name: water") });
	expect(folds).toContainEqual({ startLine: line("  landmarks:"), endLine: line("- { name: water") });
	const [selection] = await client.request<SelectionRange[]>("textDocument/selectionRange", {
		textDocument: { uri },
		positions: [positionOf(sample, sample.indexOf("eta Virginis\n") + 2)],
	});
	const texts: string[] = [];
	for (let at: SelectionRange | undefined = selection; at; at = at.parent)
		texts.push(sample.slice(offsetOf(sample, at.range.start), offsetOf(sample, at.range.end)));
	expect(texts.slice(0, 2)).toEqual(["eta Virginis", "guide-star: eta Virginis"]);
	expect(texts[texts.length - 1]).toBe(sample);
});
