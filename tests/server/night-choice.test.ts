import { expect, test } from "vitest";
import type { WorkspaceEdit } from "vscode-languageserver";
import { Opened, sampleText } from "./opened-notebook.ts";
import { serve } from "./served.ts";

const { client, opened: textOpened } = serve({ notebookDocument: { synchronization: {} } });

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

test("nights by framing: what is offered counts less time than without, and what is not offered is refused", async () => {
	const opened = await Opened.open(client, sampleText("roofless-chapel.lode.yaml"));
	const asked = { uri: opened.cell(0), from: "2027-06-01", days: 40 };
	interface Answer {
		choices: { date: string; description: string }[];
		framings: { label: string; framing: string }[];
		problem: string;
	}
	const all = await client.request<Answer>("lodebook/nights", asked);
	expect(all.framings.map(({ label }) => label)).toEqual([
		"Only while core over the gable is at bearing 109° ± 10°",
		"Only while core over the gable and the ground under it fit into one frame",
	]);
	const minutes = ({ choices }: Answer): number =>
		choices.reduce((sum, { description }) => {
			const [, hours = 0, rest = 0] = /^(?:(\d+) h )?(\d+) min/.exec(description) ?? [];
			return sum + 60 * Number(hours) + Number(rest);
		}, 0);
	for (const { framing } of all.framings) {
		const framed = await client.request<Answer>("lodebook/nights", { ...asked, framing });
		expect(framed.problem).toBe("");
		expect(minutes(framed)).toBeLessThan(minutes(all));
		expect(minutes(framed)).toBeGreaterThan(0);
	}
	for (const framing of ["", "{}", "nobody", 7])
		expect(await client.request<Answer>("lodebook/nights", { ...asked, framing })).toMatchObject({
			choices: [],
			problem: "No target of the plan can be framed like this any more.",
		});
});

test("the picture of a year and the choices agree, night by night and in words", async () => {
	const opened = await Opened.open(client, sampleText("roofless-chapel.lode.yaml"));
	const asked = { uri: opened.cell(0), from: "2027-01-01" };
	const { html, problem } = await client.request<{ html: string; problem: string }>("lodebook/yearOfNights", asked);
	expect(problem).toBe("");
	const { choices } = await client.request<{
		choices: { date: string; label: string; description: string; detail: string }[];
	}>("lodebook/nights", { ...asked, days: 365 });
	const said = new Map(
		[...html.matchAll(/data-night="([\d-]+)"[^>]*><title>([^<]*)</g)].map(([, date, text]) => [date, text]),
	);
	expect(choices.length).toBeGreaterThan(50);
	for (const { date, label, description, detail } of choices)
		expect(said.get(date)).toBe(`${label}: ${description}; ${detail}`);
	// Every day of the year has its place, those that cannot be chosen too: more nights than these are too bright.
	expect([...html.matchAll(/<g [^>]*transform/g)]).toHaveLength(365);
	expect(said.size).toBeLessThan(365);
	expect(html).toContain(`${said.size} of 365 nights from 2027-01-01 until 2027-12-31 are usable.`);
	expect(html.match(/data-present/g)).toHaveLength(1);
});

test("while nights are compared questions are answered; an edit ends it, and that is said", async () => {
	const text = sampleText("roofless-chapel.lode.yaml");
	const uri = await textOpened(text.replace("32.4123", "32.5"));
	const year = client.request<{ html: string; problem: string }>("lodebook/yearOfNights", { uri, from: "2027-01-01" });
	const folding = client.request("textDocument/foldingRange", { textDocument: { uri } });
	expect(await Promise.race([year.then(() => "year"), folding.then(() => "folding")])).toBe("folding");
	await client.connection.sendNotification("textDocument/didChange", {
		textDocument: { uri, version: 2 },
		contentChanges: [{ text }],
	});
	expect(await year).toEqual({
		html: "",
		problem: "The plan changed while its nights were being compared. Compare them again.",
	});
});

test("without a place there is no picture, and that is said", async () => {
	const uri = await textOpened("night:\n  date: 2027-06-05\n");
	expect(await client.request("lodebook/yearOfNights", { uri, from: "2027-01-01" })).toEqual({
		html: "",
		problem: "Nights cannot be compared: the site needs a latitude and longitude.",
	});
});

test("a night that cannot be written says why", async () => {
	const opened = await Opened.open(client, sampleText("roofless-chapel.lode.yaml"));
	const uri = opened.cell(0);
	// Full Moon (USNO, Phases of the Moon).
	const answer = await client.request("lodebook/writeNight", { uri, date: "2027-06-19" });
	expect(answer).toMatchObject({ edit: null, problem: expect.stringContaining("Nothing was written: the evening of") });
	expect(await client.request("lodebook/writeNight", { uri, date: "soon" })).toMatchObject({ edit: null });
});
