/** A clock time of the next day says so in the editor and on the command line. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import type { CodeAction, CodeLens, CompletionItem, CompletionList, Hover, InlayHint } from "vscode-languageserver";
import type { MarksAnswer, NightsAnswer } from "../../shared/protocol/choices.ts";
import { bareTimes } from "../next-day.ts";
import { CLI } from "./client.ts";
import { serve } from "./served.ts";

const cave = readFileSync(new URL("../../samples/gannet-cave.lode.yaml", import.meta.url), "utf8")
	// A note is its writer's own.
	.replace(/---\nnote:[\s\S]*/, "")
	// Weeks earlier the same stars pass after midnight.
	.replace("2027-05-05", "2027-04-12")
	.replace('leave: "02:30"\n  low-water: "01:55"', 'leave: "04:45"')
	.replace('from: "01:25"', 'from: "03:00"')
	.replace('at: "22:58"', 'at: "00:28"');
/** Aligned on a star that passes after midnight, at its time and an hour later; with a gap; from a body of the sky. */
const PLANS = {
	"in time": cave,
	late: cave.replace('at: "00:28"', 'at: "01:28"'),
	"without a star": cave.replace("  guide-star: zeta Virginis\n", ""),
	body: cave.replace(/kind: phone[\s\S]*?---/, 'kind: sky-bearing\n  body: Vega\n  at: "00:30"\n---'),
};

const { client, opened } = serve({ textDocument: { inlayHint: {} } });

/** All that is told of a plan, by what tells it. */
async function toldOf(text: string): Promise<Readonly<Record<string, string>>> {
	const uri = await opened(text);
	const textDocument = { uri };
	const lines = text.split("\n");
	const whole = { start: { line: 0, character: 0 }, end: { line: lines.length, character: 0 } };
	const at = (line: number, character: number) => ({ textDocument, position: { line, character } });
	const hovers: (Hover | null)[] = [];
	const completions: (CompletionList | CompletionItem[] | null)[] = [];
	for (const [line, words] of lines.entries()) {
		const value = words.indexOf(": ") + 3;
		if (value < 3) continue;
		hovers.push(
			await client.request("textDocument/hover", at(line, words.search(/[a-z]/))),
			await client.request("textDocument/hover", at(line, value)),
		);
		completions.push(await client.request("textDocument/completion", at(line, value)));
	}
	const items = completions.flatMap((one) => (one === null ? [] : Array.isArray(one) ? one : one.items));
	const hints = await client.request<InlayHint[]>("textDocument/inlayHint", { textDocument, range: whole });
	const lenses = await client.request<CodeLens[]>("textDocument/codeLens", { textDocument });
	const actions = await client.request<CodeAction[]>("textDocument/codeAction", {
		textDocument,
		range: whole,
		context: { diagnostics: [] },
	});
	const marks = await client.request<MarksAnswer>("lodebook/marks", {
		uri,
		line: lines.findIndex((words) => words.includes("kind: s")),
	});
	const nights = await client.request<NightsAnswer>("lodebook/nights", { uri, from: "2027-04-01", days: 30 });
	return {
		hovers: hovers.map((one) => JSON.stringify(one?.contents ?? "").replace(/\\\\([()+])/g, "$1")).join("\n"),
		// What is typed is the plan's own text.
		completions: items.map(({ detail, labelDetails }) => `${detail} ${labelDetails?.description}`).join("\n"),
		hints: hints.map(({ label, tooltip }) => JSON.stringify([label, tooltip])).join("\n"),
		lenses: lenses.map(({ command }) => command?.title).join("\n"),
		actions: actions.map(({ title }) => title).join("\n"),
		marks: marks.choices.map(({ label, detail }) => `${label}, ${detail}`).join("\n"),
		nights: nights.choices.map(({ label, description, detail }) => `${label}, ${description}, ${detail}`).join("\n"),
		findings: (await client.diagnostics(uri)).map(({ message }) => message).join("\n"),
	};
}

test("hovers, completions, hints, lenses, actions, choices, findings", async () => {
	const marked = new Set<string>();
	for (const [plan, text] of Object.entries(PLANS))
		for (const [name, told] of Object.entries(await toldOf(text))) {
			expect(bareTimes(told), `${plan}: ${name}`).toEqual([]);
			if (told.includes("(+1)")) marked.add(name);
		}
	expect([...marked].sort()).toEqual(
		["actions", "completions", "findings", "hints", "hovers", "lenses", "marks", "nights"].sort(),
	);
});

test("show, check, stars, nights, evening, compare", () => {
	const folder = mkdtempSync(join(tmpdir(), "lodebook-next-day-"));
	const files = Object.values(PLANS).map((text, i) => {
		const path = join(folder, `${i}.lode.yaml`);
		writeFileSync(path, text);
		return path;
	});
	const [first = "", second = ""] = files;
	for (const args of [
		...files.map((path) => ["show", path]),
		["check", ...files],
		...files.map((path) => ["stars", path]),
		["nights", first, "--until", "2027-05-20"],
		["evening", first],
		["compare", first, second],
		["compare", first, second, "--markdown"],
	]) {
		const { stdout } = spawnSync(process.execPath, [CLI, ...args], { encoding: "utf8" });
		// What was typed is the plan's own text.
		const told = stdout.replace(/\\([()+])/g, "$1").replace(/Edits[\s\S]*$/, "");
		expect(bareTimes(told), args.join(" ")).toEqual([]);
		expect(told, args.join(" ")).toContain("(+1)");
	}
});
