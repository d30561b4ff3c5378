import { expect, test } from "vitest";
import { Opened, SAMPLES, sampleText } from "./opened-notebook.ts";
import { serve } from "./served.ts";

const { client } = serve({ notebookDocument: { synchronization: {} } });

interface Output {
	readonly uri: string;
	readonly html: string;
	readonly markdown: string;
	readonly text: string;
}

test.each(SAMPLES)("%s: each cell's part of the page, in three forms; none for notes", async (name) => {
	const opened = await Opened.open(client, sampleText(name));
	const outputs = await client.request<Output[]>("lodebook/cellOutputs", { uri: opened.uri });
	expect(outputs.map(({ uri }) => uri)).toEqual(opened.notebook.cells.map((_, i) => opened.cell(i)));
	for (const [i, { html, markdown, text }] of outputs.entries()) {
		if (opened.notebook.cells[i]?.kind === "note") expect(text).toBe("");
		expect(html === "").toBe(text === "");
		expect(markdown === "").toBe(text === "");
		expect(html).not.toMatch(/<script|\son\w+=|href="(?!#sky(?:-[a-z]+)?"|lodebook-finding:\/[\w/-]+\.md")|src=/);
		expect(`${html}${markdown}${text}`).not.toMatch(/undefined|NaN|\[object/);
	}
});

test("they change with any cell, and nothing is said twice", async () => {
	const opened = await Opened.open(client, sampleText("roofless-chapel.lode.yaml"));
	const ask = () => client.request<Output[]>("lodebook/cellOutputs", { uri: opened.uri });
	const before = await ask();
	expect(before[0]?.text).toContain("No problems found.");
	expect(before[1]?.text).toContain("Pole altitude: 32.41°");
	expect(before[1]?.html).toContain('id="panorama"');
	expect(before[2]?.html).toContain('id="timeline"');
	expect(before[4]?.text).toContain("The drive swings to either side by");
	expect(before[5]?.text).toContain("Works 20:00–20:04. Axis within 2.1° of");
	expect(before[6]?.text).toContain("Pan from water tower to the pole: 46.1° anticlockwise");
	expect(before[7]?.markdown).toContain("core over the gable");
	await opened.type(1, { start: { line: 2, character: 12 }, end: { line: 2, character: 13 } }, "1");
	const after = await ask();
	// 12.4123 S: the site, its night, both ways and the targets are others; the lens and the tracker are not.
	expect(after.map(({ html }, i) => html !== before[i]?.html)).toEqual([
		true,
		true,
		true,
		false,
		false,
		true,
		true,
		true,
		false,
	]);
	expect(after[1]?.text).toContain("Pole altitude: 12.41°");
});

test("in Markdown too a code leads to its explanation", async () => {
	const opened = await Opened.open(client, sampleText("mistakes.lode.yaml"));
	const outputs = await client.request<Output[]>("lodebook/cellOutputs", { uri: opened.uri });
	const lists = outputs.flatMap(({ markdown }) =>
		markdown.split("\n").filter((line) => /^- \*\*(?:error|warning|note)/i.test(line)),
	);
	expect(lists.length).toBeGreaterThan(5);
	// What is wrong and what is dangerous are two lists.
	expect(outputs[0]?.markdown).toMatch(/\n\n\*\*Safety\*\*\n\n- /);
	expect(outputs[0]?.text).toMatch(/\nSafety\n {2}/);
	for (const line of lists) expect(line).toMatch(/\[`([\w/-]+)`\]\(lodebook-finding:\/\1\.md\)$/);
});

test("markup in a plan stays text in every form", async () => {
	const opened = await Opened.open(
		client,
		sampleText("roofless-chapel.lode.yaml")
			.replace("Core over", "<img src=x onerror=alert(1)> [x](command:y) Core over")
			.replaceAll("water tower", "<script>b</script>"),
	);
	for (const { html, markdown } of await client.request<Output[]>("lodebook/cellOutputs", { uri: opened.uri })) {
		expect(html).not.toMatch(/<img|<script/);
		expect(markdown).not.toMatch(/<img|<script|\]\(command/);
	}
});

test("kinds of cells to add: those of which there may be several or are not there, each with a text that reads", async () => {
	const opened = await Opened.open(client, "plan:\n  title: A\n---\nsite:\n  name: B\n");
	const kinds = await client.request<{ label: string; description: string; text: string }[]>("lodebook/cellKinds", {
		uri: opened.uri,
	});
	expect(kinds.map(({ label }) => label)).toEqual(["night", "lens", "tracker", "method", "targets", "note", "log"]);
	expect(kinds[0]).toMatchObject({
		description: "required",
		text: expect.stringContaining("night:\n  date:"),
	});
});

test("a notebook that is not open has none", async () => {
	expect(await client.request("lodebook/cellOutputs", { uri: "file:///none.lode.yaml" })).toBe(null);
	expect(await client.request("lodebook/cellKinds", { uri: "file:///none.lode.yaml" })).toBe(null);
});
