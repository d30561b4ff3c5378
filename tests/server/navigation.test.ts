import { expect, test } from "vitest";
import type { DocumentHighlight, Location, WorkspaceEdit } from "vscode-languageserver";
import { codesOf, cursor } from "../plan-text.ts";
import { positionOf } from "./client.ts";
import { Opened, sampleText } from "./opened-notebook.ts";
import { applied, offsetOf, sample, serve } from "./served.ts";

const { client, opened } = serve({ notebookDocument: { synchronization: {} } });

const at = async (marked: string) => {
	const { text, offset } = cursor(marked);
	return { uri: await opened(text), text, position: positionOf(text, offset) };
};

test("definition, references, highlights, rename of a lens, a landmark, an opening", async () => {
	const { uri, text, position } = await at(sample.replace("lens: wide\n    at", "lens: wi$0de\n    at"));
	const definition = await client.request<Location[]>("textDocument/definition", { textDocument: { uri }, position });
	expect(definition.map(({ range }) => text.slice(offsetOf(text, range.start) - 6, offsetOf(text, range.end)))).toEqual(
		["name: wide"],
	);
	expect(
		await client.request<Location[]>("textDocument/references", {
			textDocument: { uri },
			position,
			context: { includeDeclaration: true },
		}),
	).toHaveLength(3);
	expect(
		await client.request<DocumentHighlight[]>("textDocument/documentHighlight", { textDocument: { uri }, position }),
	).toHaveLength(3);
	const edit = await client.request<WorkspaceEdit>("textDocument/rename", {
		textDocument: { uri },
		position,
		newName: "24: the wide one",
	});
	const renamed = applied(text, edit.changes?.[uri] ?? []);
	expect(renamed.match(/"24: the wide one"/g)).toHaveLength(3);
	expect(codesOf(renamed)).toEqual([]);
});

test("what has no name cannot be renamed", async () => {
	const { uri, position } = await at(sample.replace("elevation: 1450", "elevation: 14$050"));
	expect(await client.request("textDocument/prepareRename", { textDocument: { uri }, position })).toBeNull();
	await expect(
		client.request("textDocument/rename", { textDocument: { uri }, position, newName: "x" }),
	).rejects.toThrow(/Only names/);
});

test("rename changes the name in every cell that has it", async () => {
	const opened = await Opened.open(client, sampleText("roofless-chapel.lode.yaml"));
	const at = opened.inCell(opened.text.getText().indexOf("wide"));
	const edit = await client.request<WorkspaceEdit>("textDocument/rename", {
		textDocument: { uri: at?.uri },
		position: at?.position,
		newName: "broad",
	});
	expect(Object.keys(edit.changes ?? {})).toEqual([opened.cell(3), opened.cell(7)]);
	expect(edit.changes?.[opened.cell(7)]?.length).toBe(2);
});
