import { expect, test } from "vitest";
import type { TextEdit } from "vscode-languageserver";
import { Opened, sampleText } from "./opened-notebook.ts";
import { applied, sample, serve } from "./served.ts";

const { client, opened } = serve({ notebookDocument: { synchronization: {} } });

const formatted = async (text: string): Promise<string> => {
	const uri = await opened(text);
	return applied(
		text,
		await client.request<TextEdit[]>("textDocument/formatting", {
			textDocument: { uri },
			options: { tabSize: 2, insertSpaces: true },
		}),
	);
};

test("quotes clock times, trims lines, ends with one line break; keeps comments and style; a second time changes nothing", async () => {
	const text =
		"night  :   # tonight\n  date : 2027-06-05  \n  arrive: 17:00   # early\n  'leave': 02:00\n---\nmethod: { kind: compass, at: 21:10 }\n\n\n";
	const once = await formatted(text);
	expect(once).toBe(
		'night:   # tonight\n  date: 2027-06-05\n  arrive: "17:00"   # early\n  \'leave\': "02:00"\n---\nmethod: { kind: compass, at: "21:10" }\n',
	);
	expect(await formatted(once)).toBe(once);
	expect(await formatted(sample)).toBe(sample);
	expect(await formatted(text.replace(/\n/g, "\r\n"))).toBe(once.replace(/\n/g, "\r\n"));
});

test("what does not parse, and what a note says, stays as it is", async () => {
	const said: string[] = [];
	const listening = client.connection.onNotification("window/showMessage", ({ message }: { message: string }) => {
		said.push(message);
	});
	const broken = "night: [  \n";
	expect(await formatted(broken)).toBe(broken);
	const half = "plan :\n  title: A\n---\nnight: [  \n";
	expect(await formatted(half)).toBe("plan:\n  title: A\n---\nnight: [  \n");
	await expect
		.poll(() => said)
		.toEqual([
			"The cell in line 1 does not parse: it was left as it is.",
			"The cell in line 4 does not parse: it was left as it is.",
		]);
	listening.dispose();
	const note = "note: |\n  two spaces  \n  here\n";
	expect(await formatted(note)).toBe(note);
});

test("formatting a cell touches that cell", async () => {
	const opened = await Opened.open(
		client,
		sampleText("roofless-chapel.lode.yaml")
			.replace('arrive: "17:00"', "arrive: 17:00   ")
			.replace("name: Roofless", "name:  Roofless"),
	);
	const edits = await client.request<TextEdit[]>("textDocument/formatting", {
		textDocument: { uri: opened.cell(2) },
		options: { tabSize: 2, insertSpaces: true },
	});
	expect(edits.map(({ newText, range }) => [range.start.line, newText])).toEqual([
		[2, '"17:00"'],
		[2, ""],
	]);
});
