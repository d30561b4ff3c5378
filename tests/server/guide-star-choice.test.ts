import { expect, test } from "vitest";
import type { WorkspaceEdit } from "vscode-languageserver";
import { Opened, sampleText } from "./opened-notebook.ts";
import { serve } from "./served.ts";

const { client } = serve({ notebookDocument: { synchronization: {} } });

test("the edits of a notebook's plan go to the cell they change", async () => {
	const opened = await Opened.open(client, sampleText("roofless-chapel.lode.yaml"));
	const stars = await client.request<{ edit: WorkspaceEdit }[]>("lodebook/guideStars", {
		uri: opened.cell(5),
		line: 2,
	});
	expect(Object.keys(stars[1]?.edit.changes ?? {})).toEqual([opened.cell(5)]);
});
