import { expect, test } from "vitest";
import type { WorkspaceEdit } from "vscode-languageserver";
import { Opened, sampleText } from "./opened-notebook.ts";
import { serve } from "./served.ts";

const { client } = serve({ notebookDocument: { synchronization: {} } });

test("the evening's placed times go to the cells they belong to; where there are none it is said", async () => {
	const text = sampleText("roofless-chapel.lode.yaml")
		.replace('  at: "20:01"\n', "")
		.replace('    from: "20:30"\n', "");
	const opened = await Opened.open(client, text);
	const { edit, problem } = await client.request<{ edit: WorkspaceEdit; problem: string }>("lodebook/writeEvening", {
		uri: opened.cell(0),
	});
	expect(problem).toBe("");
	const changes = edit.changes ?? {};
	expect(Object.keys(changes).sort()).toEqual([opened.cell(5), opened.cell(7)].sort());
	expect(changes[opened.cell(5)]?.[0]?.newText).toContain('at: "20:02"');
	const fixed = await Opened.open(
		client,
		sampleText("roofless-chapel.lode.yaml").replace("foreground: true", 'foreground: { at: "20:49" }'),
	);
	expect(await client.request("lodebook/writeEvening", { uri: fixed.cell(0) })).toEqual({
		edit: null,
		problem: "Nothing was written: every step of the evening already has its time.",
	});
});
