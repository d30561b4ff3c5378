import { expect, test } from "vitest";
import type { WorkspaceEdit } from "vscode-languageserver";
import { Opened, sampleText } from "./opened-notebook.ts";
import { serve } from "./served.ts";

const { client } = serve({ notebookDocument: { synchronization: {} } });

test("the edits of a notebook's plan go to the cells they change", async () => {
	const opened = await Opened.open(client, sampleText("roofless-chapel.lode.yaml"));
	const uri = opened.cell(0);
	const nights = await client.request<{ choices: { date: string; label: string }[]; present: string }>(
		"lodebook/nights",
		{ uri, from: "2027-06-01", days: 60 },
	);
	expect(nights.choices.length).toBeGreaterThan(0);
	expect(nights.present).toMatch(/^2027-06-05 Sat: .* Moon illumination 3 %$/);
	for (const { date, label } of nights.choices.slice(0, 2)) {
		expect(label).toMatch(new RegExp(`^${date} (Mon|Tue|Wed|Thu|Fri|Sat|Sun)$`));
		const { edit, problem } = await client.request<{ edit: WorkspaceEdit; problem: string }>("lodebook/writeNight", {
			uri,
			date,
		});
		expect(problem, date).toBe("");
		for (const changed of Object.keys(edit.changes ?? {})) expect([2, 5, 7].map(opened.cell)).toContain(changed);
	}
});

test("a night that cannot be written says why", async () => {
	const opened = await Opened.open(client, sampleText("roofless-chapel.lode.yaml"));
	const uri = opened.cell(0);
	// Full Moon (USNO, Phases of the Moon).
	const answer = await client.request("lodebook/writeNight", { uri, date: "2027-06-19" });
	expect(answer).toMatchObject({ edit: null, problem: expect.stringContaining("Nothing was written: the evening of") });
	expect(await client.request("lodebook/writeNight", { uri, date: "soon" })).toMatchObject({ edit: null });
});
