/** Notebooks among the plans of a workspace: who takes their cells, names over files, and comments that hide a finding in a cell. */
import { mkdirSync, mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { CodeAction, CodeLens, Location, Range, TextEdit, WorkspaceEdit } from "vscode-languageserver";
import { planWith } from "../plan-text.ts";
import { TestClient } from "./client.ts";
import { Opened, pushed } from "./opened-notebook.ts";

const folder = mkdtempSync(join(tmpdir(), "lodebook-notebooks-"));
const client = new TestClient();
const uriOf = (name: string): string => pathToFileURL(join(folder, name)).href;

const SITES = `plan: { title: Sites, kind: library }
---
site:
  name: Fold
  latitude: 32.4123 S
  longitude: 54.3622 W
---
site:
  name: Cliff foot
  latitude: 32.5 S
  longitude: 54.4 W
`;
const taking = (name: string): string => planWith({ site: `name: ${name}\nfrom: sites.lode.yaml` });
const FIRST_LINE: Range = { start: { line: 0, character: 1 }, end: { line: 0, character: 1 } };

beforeAll(async () => {
	mkdirSync(join(folder, "other"));
	writeFileSync(join(folder, "sites.lode.yaml"), SITES);
	writeFileSync(join(folder, "a.lode.yaml"), taking("Fold"));
	writeFileSync(join(folder, "b.lode.yaml"), taking("Fold"));
	await client.start({ notebookDocument: { synchronization: {} } }, pathToFileURL(folder).href);
});
afterAll(() => client.stop());

const usedBy = async (uri: string): Promise<readonly string[]> =>
	((await client.request<CodeLens[] | null>("textDocument/codeLens", { textDocument: { uri } })) ?? []).flatMap(
		({ command, range }) => (command?.title.startsWith("used by") ? [`${range.start.line} ${command.title}`] : []),
	);

describe("the index of plans", () => {
	let library: Opened;
	beforeAll(async () => {
		library = await Opened.open(client, SITES, true, uriOf("sites.lode.yaml"));
	});

	test("a library that is open as a notebook says in each cell how many plans take it", async () => {
		await expect.poll(() => usedBy(library.cell(1))).toEqual(["0 used by 2 plans"]);
		expect(await usedBy(library.cell(2))).toEqual([]);
		const found = await client.request<Location[]>("textDocument/references", {
			textDocument: { uri: library.cell(1) },
			position: FIRST_LINE.start,
			context: { includeDeclaration: false },
		});
		expect(found.map(({ uri }) => uri).sort()).toEqual([uriOf("a.lode.yaml"), uriOf("b.lode.yaml")]);
	});

	test("a plan that is open as a notebook counts as it is there, with what was typed and not saved, until it is closed", async () => {
		const plan = await Opened.open(client, taking("Fold"), true, uriOf("b.lode.yaml"));
		const name = { start: { line: 1, character: 8 }, end: { line: 1, character: 12 } };
		const site = plan.notebook.cells.findIndex(({ shown }) => shown.startsWith("site:"));
		expect(plan.notebook.cells[site]?.shown.split("\n")[1]).toBe("  name: Fold");
		await plan.type(site, name, "Cliff foot");
		await expect.poll(() => usedBy(library.cell(1))).toEqual(["0 used by 1 plan"]);
		expect(await usedBy(library.cell(2))).toEqual(["0 used by 1 plan"]);
		const places = await client.request<Location[]>("textDocument/references", {
			textDocument: { uri: library.cell(2) },
			position: FIRST_LINE.start,
			context: { includeDeclaration: false },
		});
		expect(places.map(({ uri }) => uri)).toEqual([plan.cell(site)]);
		await plan.close();
		await expect.poll(() => usedBy(library.cell(1))).toEqual(["0 used by 2 plans"]);
	});

	test("a site that is renamed in its cell is renamed in the files and in the notebooks that take it", async () => {
		const plan = await Opened.open(client, taking("Fold"), true, uriOf("b.lode.yaml"));
		await expect.poll(() => usedBy(library.cell(1))).toEqual(["0 used by 2 plans"]);
		const { changes = {} } = await client.request<WorkspaceEdit>("textDocument/rename", {
			textDocument: { uri: library.cell(1) },
			position: { line: 1, character: 9 },
			newName: "Old fold",
		});
		const site = plan.notebook.cells.findIndex(({ shown }) => shown.startsWith("site:"));
		expect(Object.keys(changes).sort()).toEqual([library.cell(1), plan.cell(site), uriOf("a.lode.yaml")].sort());
		for (const uri of [library.cell(1), plan.cell(site)])
			expect(changes[uri]).toEqual([
				{ range: { start: { line: 1, character: 8 }, end: { line: 1, character: 12 } }, newText: "Old fold" },
			]);
		await plan.close();
	});
});

describe("comments that hide a finding", () => {
	const HIDDEN = planWith({
		method: "kind: pole-sighting",
		site: "name: Cliff foot\nlatitude: 32.4123 S\nlongitude: 54.3622 W\nskyline: [[0, 4], [160, 49], [215, 52], [300, 6]]",
	});
	const REASON = "it shows from the step";
	const codesIn = async (opened: Opened): Promise<ReadonlyMap<string, readonly (string | number | undefined)[]>> =>
		new Map((await pushed(client, opened)).map(([uri, list]) => [uri, list.map(({ code }) => code)]));
	const cellOf = ({ notebook }: Opened, word: string): number =>
		notebook.cells.findIndex(({ shown }) => shown.startsWith(`${word}:`));
	const kindLine = 1;
	const at = (line: number, character = 0): Range => ({ start: { line, character }, end: { line, character } });

	test("an action puts one above the line, in the cell; with its reason it hides the finding, and nothing else", async () => {
		const opened = await Opened.open(client, HIDDEN);
		const method = cellOf(opened, "method");
		const uri = opened.cell(method);
		const before = await codesIn(opened);
		expect(before.get(uri)).toContain("method/pole-hidden");
		const actions = await client.request<CodeAction[]>("textDocument/codeAction", {
			textDocument: { uri },
			range: at(kindLine, 10),
			context: { diagnostics: [] },
		});
		const ignoring = actions.find(
			({ title, diagnostics }) => title.startsWith("Ignore") && diagnostics?.[0]?.code === "method/pole-hidden",
		);
		const [edit]: readonly TextEdit[] = ignoring?.edit?.changes?.[uri] ?? [];
		expect(Object.keys(ignoring?.edit?.changes ?? {})).toEqual([uri]);
		expect(edit).toEqual({ range: at(kindLine), newText: "  # lodebook-ignore method/pole-hidden: \n" });
		await opened.type(method, at(kindLine), (edit?.newText ?? "").replace(": \n", `: ${REASON}\n`));
		const after = await codesIn(opened);
		expect(after.get(uri)).toEqual(before.get(uri)?.filter((code) => code !== "method/pole-hidden"));
		for (const [other, codes] of before) if (other !== uri) expect(after.get(other), other).toEqual(codes);
	});

	test("behind the line too; without a reason, or where it hides nothing, that is told in its own cell", async () => {
		const opened = await Opened.open(client, HIDDEN);
		const method = cellOf(opened, "method");
		const end = { line: kindLine, character: "  kind: pole-sighting".length };
		await opened.type(method, { start: end, end }, " # lodebook-ignore method/pole-hidden:");
		expect((await codesIn(opened)).get(opened.cell(method))).toEqual(expect.arrayContaining(["ignore/no-reason"]));
		expect((await codesIn(opened)).get(opened.cell(method))).not.toContain("method/pole-hidden");
		// In another cell it is on no line of the finding.
		const site = cellOf(opened, "site");
		await opened.type(site, at(1), `  # lodebook-ignore method/pole-hidden: ${REASON}\n`);
		expect((await codesIn(opened)).get(opened.cell(site))).toContain("ignore/unused");
	});

	test("at the end of a cell it hides nothing of the next one", async () => {
		const opened = await Opened.open(client, HIDDEN);
		const tracker = cellOf(opened, "tracker");
		const lines = opened.notebook.cells[tracker]?.shown.split("\n") ?? [];
		const end = { line: lines.length - 1, character: lines.at(-1)?.length ?? 0 };
		await opened.type(tracker, { start: end, end }, `\n# lodebook-ignore method/pole-hidden: ${REASON}`);
		const codes = await codesIn(opened);
		expect(codes.get(opened.cell(cellOf(opened, "method")))).toContain("method/pole-hidden");
		expect(codes.get(opened.cell(tracker))).toContain("ignore/unused");
	});

	test("one that hides nothing any more is taken out of its cell by its fix", async () => {
		const opened = await Opened.open(client, HIDDEN);
		const night = cellOf(opened, "night");
		const uri = opened.cell(night);
		const comment = `  # lodebook-ignore night/no-darkness: ${REASON}\n`;
		await opened.type(night, at(1), comment);
		const actions = await client.request<CodeAction[]>("textDocument/codeAction", {
			textDocument: { uri },
			range: at(1, 10),
			context: { diagnostics: [] },
		});
		const fix = actions.find(
			({ diagnostics, isPreferred }) => isPreferred && diagnostics?.[0]?.code === "ignore/unused",
		);
		expect(fix?.edit?.changes?.[uri]).toEqual([
			{ range: { start: { line: 1, character: 0 }, end: { line: 2, character: 0 } }, newText: "" },
		]);
	});
});
