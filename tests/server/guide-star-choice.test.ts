import { expect, test } from "vitest";
import type { WorkspaceEdit } from "vscode-languageserver";
import { codesOf } from "../plan-text.ts";
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

test("a new plan checks clean; one whose place or date cannot be read is none", async () => {
	const place = { title: "Night at Windy knoll", site: "Windy knoll", latitude: "44.1 S", longitude: "170.4 E" };
	const text = await client.request<string>("lodebook/newPlan", { ...place, date: "2027-07-03" });
	expect(codesOf(text)).toEqual([]);
	expect(await client.request("lodebook/newPlan", { ...place, date: "3 July" })).toBeNull();
	expect(await client.request("lodebook/newPlan", { ...place, date: "2027-07-03", latitude: "up" })).toBeNull();
});
