import { expect, test } from "vitest";
import type { WorkspaceEdit } from "vscode-languageserver";
import { Opened, sampleText } from "./opened-notebook.ts";
import { serve } from "./served.ts";

const { client } = serve({ notebookDocument: { synchronization: {} } });

test("the edits of a notebook's plan go to the cells they change", async () => {
	const opened = await Opened.open(client, sampleText("roofless-chapel.lode.yaml"));
	const nights = await client.request<{ choices: { edit: WorkspaceEdit }[] }>("lodebook/nights", {
		uri: opened.cell(0),
		from: "2027-06-01",
		days: 60,
	});
	expect(nights.choices.length).toBeGreaterThan(0);
	for (const { edit } of nights.choices)
		for (const uri of Object.keys(edit.changes ?? {})) expect([2, 5, 7].map(opened.cell)).toContain(uri);
});
