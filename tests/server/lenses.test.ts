import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import type { CodeLens } from "vscode-languageserver";
import { positionOf } from "./client.ts";
import { sample, serve } from "./served.ts";

const extension = serve({}, { readsFiles: true });
const other = serve();

test("code lenses over cells name commands that exist", async () => {
	const uri = await extension.opened(sample);
	const lenses = await extension.client.request<CodeLens[]>("textDocument/codeLens", { textDocument: { uri } });
	expect(lenses.map(({ command }) => command?.title)).toEqual([
		"No problems found",
		"Open preview",
		"6 h 54 min dark and moonless on site",
		expect.stringMatching(/^Evening 17:00–02:00 \(\+1\), \d+ steps$/),
		"Align 19:56–20:06",
		expect.stringMatching(/^\d guide stars tonight, the best: eta Virginis at 20:02$/),
		"Frames 18:10, aim from 18:07",
		"Frames 20:30–20:49, aim from 20:23",
	]);
	const manifest = JSON.parse(readFileSync(new URL("../../package.json", import.meta.url), "utf8"));
	const known = [
		...manifest.contributes.commands.map(({ command }: { command: string }) => command),
		"workbench.actions.view.problems",
	];
	for (const { command } of lenses) expect(known).toContain(command?.command);
});

test("an empty file offers three ways to begin, to the extension only", async () => {
	const request = async ({ client, opened }: typeof extension): Promise<CodeLens[]> =>
		client.request("textDocument/codeLens", { textDocument: { uri: await opened("\n") } });
	expect((await request(extension)).map(({ command }) => command?.command)).toEqual([
		"lodebook.newPlan",
		"lodebook.openSample",
		"lodebook.planFromKit",
	]);
	expect(await request(other)).toEqual([]);
});

test("other clients are told the same, without commands they do not know", async () => {
	const uri = await other.opened(sample);
	const lenses = await other.client.request<CodeLens[]>("textDocument/codeLens", { textDocument: { uri } });
	expect(lenses.map(({ command }) => command)).toEqual([
		{ title: "No problems found", command: "" },
		{ title: "6 h 54 min dark and moonless on site", command: "" },
		{ title: expect.stringContaining("Evening 17:00"), command: "" },
		{ title: "Align 19:56–20:06", command: "" },
		{ title: expect.stringMatching(/^\d guide stars tonight, the best: eta Virginis at 20:02$/), command: "" },
		{ title: "Frames 18:10, aim from 18:07", command: "" },
		{ title: "Frames 20:30–20:49, aim from 20:23", command: "" },
	]);
});

test("hovers over a night, a method and a target say the same", async () => {
	const uri = await other.opened(sample);
	const said = async (word: string): Promise<string> => {
		const { contents } = await other.client.request<{ contents: { value: string } }>("textDocument/hover", {
			textDocument: { uri },
			position: positionOf(sample, sample.indexOf(word) + word.length - 2),
		});
		return contents.value;
	};
	expect(await said("night:")).toContain("**Evening 17:00–02:00 \\(\\+1\\), 11 steps**");
	expect(await said("method:")).toContain("**Align 19:56–20:06**");
	expect(await said("targets:\n  - name:")).toContain("**Frames 18:10, aim from 18:07**");
});
