import { expect, test } from "vitest";
import type { TextEdit } from "vscode-languageserver";
import type { MarksAnswer } from "../../shared/protocol/choices.ts";
import { codesOf } from "../plan-text.ts";
import { Opened, sampleText } from "./opened-notebook.ts";
import { applied, sample, serve } from "./served.ts";

const { client, opened } = serve({ notebookDocument: { synchronization: {} } });

const lineOf = (text: string, words: string): number => text.split("\n").findIndex((line) => line.includes(words));

/** What is offered at a line, and the plan with the first of it taken. */
async function marks(text: string, words: string): Promise<MarksAnswer & { readonly taken: string }> {
	const uri = await opened(text);
	const answer = await client.request<MarksAnswer>("lodebook/marks", { uri, line: lineOf(text, words) });
	const edits = Object.values(answer.choices[0]?.edit.changes ?? {})[0] ?? [];
	return { ...answer, taken: applied(text, edits as TextEdit[]) };
}

test("the edits of a notebook's plan go to the cell they change", async () => {
	const notebook = await Opened.open(client, sampleText("roofless-chapel.lode.yaml"));
	const { choices } = await client.request<MarksAnswer>("lodebook/marks", { uri: notebook.cell(5), line: 2 });
	expect(Object.keys(choices[1]?.edit.changes ?? {})).toEqual([notebook.cell(5)]);
});

test("each method's own marks are offered and written into its own cell, whichever the cursor is in", async () => {
	const laser = await marks(sample, "guide-star:");
	expect(laser.choices[0]?.label).toBe("eta Virginis at 20:02");
	expect(laser.taken).toBe(sample.replace('"20:01"', '"20:02"'));
	// Elsewhere it is the first method's.
	expect((await marks(sample, "title:")).choices).toEqual(
		laser.choices.map((one) => ({ ...one, edit: expect.anything() })),
	);
	const two = sample.replace(
		"  landmarks:\n",
		"  landmarks:\n    - { name: church, latitude: 32.5 S, longitude: 20.8 E, altitude: 1° }\n",
	);
	const landmark = await marks(two, "landmark: water tower");
	expect(landmark.choices.map(({ label }) => label)).toEqual(["church", "water tower"]);
	expect(landmark.choices[0]?.detail).toMatch(/^axis within \d\.\d° \(95 %\)$/);
	expect(landmark.taken).toBe(two.replace("landmark: water tower", "landmark: church"));
	const sweep = sample.replace(/kind: landmark-bearing\n {2}landmark: water tower/, "kind: star-sweep");
	const { choices, taken } = await marks(sweep, "kind: star-sweep");
	expect(choices.length).toBeGreaterThan(0);
	expect(taken).toMatch(/stars: \[.+, .+\]/);
	expect(taken).toContain("guide-star: eta Virginis");
	const body = sample.replace(/kind: landmark-bearing\n {2}landmark: water tower/, "kind: sky-bearing");
	expect((await marks(body, "kind: sky-bearing")).taken).toMatch(/body: .+\n/);
});

test("where there is nothing to choose it is said why", async () => {
	const phone = sample.replace(/kind: landmark-bearing\n {2}landmark: water tower/, "kind: phone");
	expect(await marks(phone, "kind: phone")).toMatchObject({
		choices: [],
		problem: "The phone is not pointed at anything: there is nothing to choose.",
	});
	expect((await marks("plan:\n  title: A\n", "plan")).problem).toContain("no method");
	expect((await marks("method:\n  kind: square-laser\n", "kind")).problem).toContain("coordinates");
	expect(codesOf((await marks(sample, "guide-star")).taken)).toEqual([]);
});
