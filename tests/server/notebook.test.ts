import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type {
	CodeAction,
	CompletionItem,
	CompletionList,
	Diagnostic,
	Hover,
	Location,
	Position,
	Range,
	TextEdit,
	WorkspaceEdit,
} from "vscode-languageserver";
import { TextDocument } from "vscode-languageserver-textdocument";
import { type Notebook, notebookOf, textOfNotebook } from "../../shared/plan/notebook.ts";
import { told } from "../../shared/text/sentence.ts";
import { TestClient } from "./client.ts";

const folder = new URL("../../samples/", import.meta.url);
const SAMPLES = readdirSync(folder).filter((name) => name.endsWith(".lode.yaml"));
const sampleText = (name: string): string => readFileSync(new URL(name, folder), "utf8");

const TYPE = "lodebook-plan";
let client: TestClient;
let count = 0;
beforeAll(async () => {
	client = await new TestClient().start({ notebookDocument: { synchronization: {} } });
});
afterAll(() => client.stop());

/** A plan opened as text and as a notebook, and the way from the one's places to the other's. */
class Opened {
	readonly uri = `file:///notebooks/${++count}.lode.yaml`;
	readonly plain = `file:///notebooks/${count}-plain.lode.yaml`;
	readonly notebook: Notebook;
	readonly text: TextDocument;
	readonly places: ReturnType<typeof textOfNotebook>["places"];
	#version = 1;

	constructor(text: string, notebook: Notebook) {
		this.notebook = notebook;
		this.text = TextDocument.create(this.plain, "lodebook", 1, text);
		this.places = textOfNotebook(notebook.cells, notebook).places;
	}

	static async open(text: string, withMetadata = true): Promise<Opened> {
		const outcome = notebookOf(text);
		if (!outcome.ok) throw new Error(told(outcome.why));
		const opened = new Opened(text, outcome.notebook);
		await client.open(opened.plain, text);
		const { cells, mark, lineEnd } = outcome.notebook;
		await client.connection.sendNotification("notebookDocument/didOpen", {
			notebookDocument: {
				uri: opened.uri,
				notebookType: TYPE,
				version: 1,
				metadata: withMetadata ? { mark, lineEnd } : {},
				cells: cells.map(({ kind, kept }, i) => ({
					kind: kind === "note" ? 1 : 2,
					document: opened.cell(i),
					...(withMetadata ? { metadata: { kept } } : {}),
				})),
			},
			cellTextDocuments: cells.map(({ kind, shown }, i) => ({
				uri: opened.cell(i),
				languageId: kind === "note" ? "markdown" : "lodebook",
				version: 1,
				text: shown,
			})),
		});
		return opened;
	}

	cell = (i: number): string => `vscode-notebook-cell:/notebooks/${this.uri.split("/").pop()}#C${i}`;

	/** The place of an offset of the text in a cell. */
	inCell(offset: number): { readonly uri: string; readonly position: Position } | undefined {
		const i = this.places.findIndex(({ start, end }) => start <= offset && offset <= end);
		const place = this.places[i];
		if (!place || this.notebook.cells[i]?.kind === "note") return undefined;
		const [first, at] = [this.text.positionAt(place.start), this.text.positionAt(offset)];
		return { uri: this.cell(i), position: { line: at.line - first.line, character: at.character } };
	}

	/** A range of a cell in the text. */
	inText(uri: string, range: Range): Range {
		const place = this.places[Number(uri.split("#C")[1])];
		const line = this.text.positionAt(place?.start ?? 0).line;
		return {
			start: { ...range.start, line: range.start.line + line },
			end: { ...range.end, line: range.end.line + line },
		};
	}

	type = (i: number, range: Range, text: string): Promise<void> => this.typeIn(this.cell(i), range, text);

	async typeIn(uri: string, range: Range, text: string): Promise<void> {
		this.#version++;
		await client.connection.sendNotification("notebookDocument/didChange", {
			notebookDocument: { uri: this.uri, version: this.#version },
			change: { cells: { textContent: [{ document: { uri, version: this.#version }, changes: [{ range, text }] }] } },
		});
	}

	/** Takes cells away and puts others there; gives the URIs of these. */
	async structure(start: number, deleteCount: number, cells: readonly string[] = []): Promise<readonly string[]> {
		this.#version++;
		const added = cells.map((text, i) => ({ text, uri: `${this.cell(100 + start)}-${this.#version}-${i}` }));
		await client.connection.sendNotification("notebookDocument/didChange", {
			notebookDocument: { uri: this.uri, version: this.#version },
			change: {
				cells: {
					structure: {
						array: { start, deleteCount, cells: added.map(({ uri }) => ({ kind: 2, document: uri })) },
						didOpen: added.map(({ uri, text }) => ({ uri, languageId: "lodebook", version: 1, text })),
						didClose: [],
					},
				},
			},
		});
		return added.map(({ uri }) => uri);
	}

	async close(): Promise<void> {
		await client.connection.sendNotification("notebookDocument/didClose", {
			notebookDocument: { uri: this.uri },
			cellTextDocuments: this.notebook.cells.map((_, i) => ({ uri: this.cell(i) })),
		});
	}
}

/** All that was pushed for a notebook's cells so far: a request is answered after what was sent before it. */
async function pushed(opened: Opened): Promise<readonly (readonly [string, readonly Diagnostic[]])[]> {
	await client.request("lodebook/pageStyle", {});
	return opened.notebook.cells.map((_, i) => [opened.cell(i), client.pushed(opened.cell(i))] as const);
}

const sorted = (list: readonly Diagnostic[]): readonly string[] =>
	list.map(({ range, message, code }) => JSON.stringify([range, code, message])).sort();

describe("a notebook's cells are one plan", () => {
	test("says that it takes notebooks, to clients that have them", () => {
		expect(client.initialized.capabilities.notebookDocumentSync).toEqual({ notebookSelector: [{ notebook: TYPE }] });
	});

	test.each(SAMPLES)("%s: the findings of the plain text, each in its cell", async (name) => {
		const opened = await Opened.open(sampleText(name));
		const found = (await pushed(opened)).flatMap(([uri, list]) =>
			list.map((one) => ({ ...one, range: opened.inText(uri, one.range) })),
		);
		const plain = await client.diagnostics(opened.plain);
		const words = (list: readonly Diagnostic[]) => list.map(({ code, message }) => `${code} ${message}`).sort();
		expect(words(found)).toEqual(words(plain));
		// Those that stand on a marker are drawn to the cell after it.
		const onMarker = ({ range }: Diagnostic): boolean => !opened.inCell(opened.text.offsetAt(range.start));
		expect(
			sorted(found.filter((one) => plain.some((other) => !onMarker(other) && other.message === one.message))),
		).toEqual(sorted(plain.filter((one) => !onMarker(one))));
	});

	test.each(SAMPLES)(
		"%s: hover and definition wherever a word begins, as in the plain text",
		async (name) => {
			const text = sampleText(name);
			const opened = await Opened.open(text);
			for (const { index } of text.matchAll(/[\w"±]+/g)) {
				const at = opened.inCell(index);
				if (!at) continue;
				const ask = { textDocument: { uri: at.uri }, position: at.position };
				const askPlain = { textDocument: { uri: opened.plain }, position: opened.text.positionAt(index) };
				const [hover, plain] = await Promise.all([
					client.request<Hover | null>("textDocument/hover", ask),
					client.request<Hover | null>("textDocument/hover", askPlain),
				]);
				expect(hover?.contents).toEqual(plain?.contents);
				// A value that ends beyond the cell (an empty one, at the next line) ends with it.
				if (hover?.range && plain?.range) expect(opened.inText(at.uri, hover.range).start).toEqual(plain.range.start);
				const [places, plainPlaces] = await Promise.all([
					client.request<Location[] | null>("textDocument/definition", ask),
					client.request<Location[] | null>("textDocument/definition", askPlain),
				]);
				expect((places ?? []).map(({ uri, range }) => opened.inText(uri, range))).toEqual(
					(plainPlaces ?? []).map(({ range }) => range),
				);
			}
		},
		60_000,
	);

	test("without metadata (another editor's notebook) the cells are one plan all the same", async () => {
		const opened = await Opened.open(sampleText("roofless-chapel.lode.yaml"), false);
		expect((await pushed(opened)).flatMap(([, list]) => list)).toEqual([]);
	});

	test("an edit of the night changes what is found in the method's cell, and taking it back takes it away", async () => {
		const opened = await Opened.open(sampleText("roofless-chapel.lode.yaml"));
		// 2027-06-05 → 2027-09-05
		await opened.type(2, { start: { line: 1, character: 14 }, end: { line: 1, character: 15 } }, "9");
		const found = await pushed(opened);
		const [uri, list] = found.find(([, all]) => all.some(({ code }) => String(code).startsWith("method/"))) ?? [];
		expect(uri).toBe(opened.cell(5));
		expect(list?.map(({ code }) => code)).toContain("method/guide-star-not-there");
		await opened.type(2, { start: { line: 1, character: 14 }, end: { line: 1, character: 15 } }, "6");
		expect((await pushed(opened)).flatMap(([, all]) => all)).toEqual([]);
	});

	test("cells added and taken away: the plan has and has not what they say", async () => {
		const opened = await Opened.open(sampleText("roofless-chapel.lode.yaml"));
		await opened.structure(3, 1);
		const codes = (await pushed(opened)).flatMap(([, list]) => list.map(({ code }) => code));
		expect(codes).toContain("structure/unknown-reference");
		await opened.structure(3, 0, [
			"lens:\n  name: wide\n  focal-length: 24 mm\n  f-number: 2\n  sensor: 36 x 24 mm\n  pixels: 6000 x 4000",
		]);
		expect((await pushed(opened)).flatMap(([, list]) => list.map(({ code }) => code))).toEqual([]);
	});

	test("cells that change places: the method that stands first is the one the plan goes by", async () => {
		const opened = await Opened.open(sampleText("roofless-chapel.lode.yaml"));
		const ask = async (): Promise<string> =>
			(await client.request<{ html: string }>("lodebook/page", { uri: opened.cell(0) })).html.match(
				/Align: ?(?:<!-- -->)?([\w-]+)/,
			)?.[1] ?? "";
		expect(await ask()).toBe("square-laser");
		// As an editor says it: out and in again, no document opened or closed.
		await client.connection.sendNotification("notebookDocument/didChange", {
			notebookDocument: { uri: opened.uri, version: 2 },
			change: {
				cells: {
					structure: {
						array: { start: 5, deleteCount: 2, cells: [6, 5].map((i) => ({ kind: 2, document: opened.cell(i) })) },
						didOpen: [],
						didClose: [],
					},
				},
			},
		});
		expect(await ask()).toBe("landmark-bearing");
	});

	test("closing it takes its findings away", async () => {
		const opened = await Opened.open(sampleText("mistakes.lode.yaml"));
		expect((await pushed(opened)).flatMap(([, list]) => list).length).toBeGreaterThan(10);
		await opened.close();
		expect((await pushed(opened)).flatMap(([, list]) => list)).toEqual([]);
	});
});

const rangeOf = ([first]: readonly CompletionItem[]): Range | undefined =>
	(first?.textEdit as TextEdit | undefined)?.range;

describe("features across cells", () => {
	test("rename changes the name in every cell that has it", async () => {
		const opened = await Opened.open(sampleText("roofless-chapel.lode.yaml"));
		const at = opened.inCell(opened.text.getText().indexOf("wide"));
		const edit = await client.request<WorkspaceEdit>("textDocument/rename", {
			textDocument: { uri: at?.uri },
			position: at?.position,
			newName: "broad",
		});
		expect(Object.keys(edit.changes ?? {})).toEqual([opened.cell(3), opened.cell(7)]);
		expect(edit.changes?.[opened.cell(7)]?.length).toBe(2);
	});

	test("completion in an empty cell offers kinds; in a method's cell the guide stars of tonight", async () => {
		const opened = await Opened.open(sampleText("roofless-chapel.lode.yaml"));
		const [added = ""] = await opened.structure(8, 0, [""]);
		const { items: kinds } = await client.request<CompletionList>("textDocument/completion", {
			textDocument: { uri: added },
			position: { line: 0, character: 0 },
		});
		expect(kinds.map(({ label }) => label)).toEqual(["lens", "method", "note", "log"]);
		expect(rangeOf(kinds)).toEqual({ start: { line: 0, character: 0 }, end: { line: 0, character: 0 } });
		const { items: stars } = await client.request<CompletionList>("textDocument/completion", {
			textDocument: { uri: opened.cell(5) },
			position: { line: 2, character: 14 },
		});
		expect(stars[0]?.detail).toContain("misses by");
		expect(rangeOf(stars)).toEqual({ start: { line: 2, character: 14 }, end: { line: 2, character: 26 } });
	});

	test("a way out of a finding is an edit of the cell where it belongs", async () => {
		const opened = await Opened.open(sampleText("roofless-chapel.lode.yaml").replace("eta Virginis\n", "Sabik\n"));
		const [uri, list] = (await pushed(opened)).find(([, all]) => all.length > 0) ?? ["", []];
		const actions = await client.request<CodeAction[]>("textDocument/codeAction", {
			textDocument: { uri },
			range: list[0]?.range,
			context: { diagnostics: list },
		});
		expect(actions.length).toBeGreaterThan(0);
		for (const { edit } of actions) expect(Object.keys(edit?.changes ?? {})).toEqual([uri]);
	});

	test.each(SAMPLES)(
		"%s: outline, folds, hints, lenses, tokens, links of all cells are those of the plain text",
		async (name) => {
			const opened = await Opened.open(sampleText(name));
			const ask = async (method: string, uri: string, extra: object = {}): Promise<unknown[]> =>
				(await client.request<unknown[] | null>(`textDocument/${method}`, { textDocument: { uri }, ...extra })) ?? [];
			const whole = { range: { start: { line: 0, character: 0 }, end: { line: 9999, character: 0 } } };
			for (const [method, extra] of [
				["documentSymbol", {}],
				["inlayHint", whole],
				["codeLens", {}],
				["documentLink", {}],
			] as const) {
				const cells = await Promise.all(
					opened.notebook.cells.map((cell, i) => (cell.kind === "note" ? [] : ask(method, opened.cell(i), extra))),
				);
				const plain = await ask(method, opened.plain, extra);
				const noteSymbols =
					method === "documentSymbol" ? opened.notebook.cells.filter(({ kind }) => kind === "note").length : 0;
				expect(cells.flat().length, method).toBe(plain.length - noteSymbols);
			}
			// Nothing stands outside of its cell.
			for (const [i, cell] of opened.notebook.cells.entries()) {
				if (cell.kind === "note") continue;
				const lines = cell.shown.split("\n").length;
				const ranges = JSON.stringify(await ask("documentSymbol", opened.cell(i))).matchAll(/"line":(-?\d+)/g);
				for (const [, line] of ranges) expect(Number(line)).toBeOneOf(Array.from({ length: lines }, (_, at) => at));
				const folds = (await ask("foldingRange", opened.cell(i))) as { startLine: number; endLine: number }[];
				for (const { startLine, endLine } of folds) {
					expect(startLine).toBeGreaterThanOrEqual(0);
					expect(endLine).toBeLessThan(lines);
				}
				const { data } = await client.request<{ data: number[] }>("textDocument/semanticTokens/full", {
					textDocument: { uri: opened.cell(i) },
				});
				let line = 0;
				for (let at = 0; at < data.length; at += 5) line += data[at] as number;
				expect(line).toBeLessThan(lines);
			}
		},
	);

	test("formatting a cell touches that cell", async () => {
		const opened = await Opened.open(
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

	test("the commands' edits go to the cells they change", async () => {
		const opened = await Opened.open(sampleText("roofless-chapel.lode.yaml"));
		const stars = await client.request<{ edit: WorkspaceEdit }[]>("lodebook/guideStars", {
			uri: opened.cell(5),
			line: 2,
		});
		expect(Object.keys(stars[1]?.edit.changes ?? {})).toEqual([opened.cell(5)]);
		const nights = await client.request<{ choices: { edit: WorkspaceEdit }[] }>("lodebook/nights", {
			uri: opened.cell(0),
			from: "2027-06-01",
			days: 60,
		});
		expect(nights.choices.length).toBeGreaterThan(0);
		for (const { edit } of nights.choices)
			for (const uri of Object.keys(edit.changes ?? {})) expect([2, 5, 7].map(opened.cell)).toContain(uri);
	});
});

describe("any edits", () => {
	test("what is found in the cells is what is found in the text they make, after every change", async () => {
		const typed = fc.constantFrom("", "x", "\n", ": ", "---\n", "# ", "9", "Sabik", '"', "- ", "site:\n  name: b\n");
		const step = fc.record({
			cell: fc.nat(),
			at: fc.nat(),
			length: fc.nat({ max: 12 }),
			typed,
			structure: fc.constantFrom("no", "no", "no", "add", "remove"),
		});
		await fc.assert(
			fc.asyncProperty(
				fc.constantFrom(...SAMPLES),
				fc.array(step, { minLength: 1, maxLength: 6 }),
				async (name, steps) => {
					const opened = await Opened.open(sampleText(name));
					const now = opened.notebook.cells.map((cell, i) => ({ ...cell, uri: opened.cell(i) }));
					for (const { cell, at, length, typed: text, structure } of steps) {
						const i = now.length === 0 ? 0 : cell % now.length;
						const old = now[i];
						if (structure === "remove" && old && now.length > 1) {
							await opened.structure(i, 1);
							now.splice(i, 1);
						} else if (structure === "add") {
							const shown = text.trimEnd();
							const [uri = ""] = await opened.structure(i, 0, [shown]);
							now.splice(i, 0, { kind: "yaml", shown, kept: undefined, uri });
						} else if (old) {
							const document = TextDocument.create(old.uri, "", 1, old.shown);
							const from = at % (old.shown.length + 1);
							const to = Math.min(old.shown.length, from + length);
							await opened.typeIn(old.uri, { start: document.positionAt(from), end: document.positionAt(to) }, text);
							now[i] = { ...old, shown: old.shown.slice(0, from) + text + old.shown.slice(to) };
						}
						await client.request("lodebook/pageStyle", {});
						const whole = textOfNotebook(now, opened.notebook).text;
						const scratch = `file:///scratch/${++count}.lode.yaml`;
						await client.open(scratch, whole);
						const words = (list: readonly Diagnostic[]): readonly string[] =>
							list.map(({ code, message }) => `${code} ${message}`).sort();
						expect(words(now.flatMap(({ uri }) => client.pushed(uri)))).toEqual(
							words(await client.diagnostics(scratch)),
						);
						await client.connection.sendNotification("textDocument/didClose", { textDocument: { uri: scratch } });
					}
					await opened.close();
				},
			),
			{
				numRuns: Number(process.env.LODEBOOK_FUZZ ?? 60),
				...(process.env.LODEBOOK_SEED === undefined ? {} : { seed: Number(process.env.LODEBOOK_SEED) }),
			},
		);
	}, 600_000);

	test("messages about notebooks and cells that are not there do no harm", async () => {
		for (const [method, params] of [
			[
				"notebookDocument/didChange",
				{ notebookDocument: { uri: "file:///no.lode.yaml", version: 2 }, change: { cells: { textContent: [] } } },
			],
			[
				"notebookDocument/didClose",
				{ notebookDocument: { uri: "file:///no.lode.yaml" }, cellTextDocuments: [{ uri: "cell:no" }] },
			],
			[
				"notebookDocument/didOpen",
				{
					notebookDocument: {
						uri: "file:///odd.lode.yaml",
						notebookType: TYPE,
						version: 1,
						cells: [{ kind: 7, document: "cell:odd", metadata: { kept: 5 } }],
					},
					cellTextDocuments: [],
				},
			],
			[
				"notebookDocument/didChange",
				{
					notebookDocument: { uri: "file:///odd.lode.yaml", version: 2 },
					change: { cells: { structure: { array: { start: 9, deleteCount: 9 } } } },
				},
			],
		] as const)
			await client.connection.sendNotification(method, params);
		expect(await client.request("lodebook/cellOutputs", { uri: "file:///odd.lode.yaml" })).toEqual([
			{ uri: "cell:odd", html: "", markdown: "", text: "" },
		]);
		expect(
			await client.request("textDocument/hover", {
				textDocument: { uri: "cell:odd" },
				position: { line: 5, character: 5 },
			}),
		).toBe(null);
	});
});

describe("outputs", () => {
	interface Output {
		readonly uri: string;
		readonly html: string;
		readonly markdown: string;
		readonly text: string;
	}

	test.each(SAMPLES)("%s: each cell's part of the page, in three forms; none for notes", async (name) => {
		const opened = await Opened.open(sampleText(name));
		const outputs = await client.request<Output[]>("lodebook/cellOutputs", { uri: opened.uri });
		expect(outputs.map(({ uri }) => uri)).toEqual(opened.notebook.cells.map((_, i) => opened.cell(i)));
		for (const [i, { html, markdown, text }] of outputs.entries()) {
			if (opened.notebook.cells[i]?.kind === "note") expect(text).toBe("");
			expect(html === "").toBe(text === "");
			expect(markdown === "").toBe(text === "");
			expect(html).not.toMatch(/<script|\son\w+=|href=|src=/);
			expect(`${html}${markdown}${text}`).not.toMatch(/undefined|NaN|\[object/);
		}
	});

	test("they change with any cell, and nothing is said twice", async () => {
		const opened = await Opened.open(sampleText("roofless-chapel.lode.yaml"));
		const ask = () => client.request<Output[]>("lodebook/cellOutputs", { uri: opened.uri });
		const before = await ask();
		expect(before[0]?.text).toContain("The plan holds.");
		expect(before[1]?.text).toContain("Pole altitude: 32.41°");
		expect(before[1]?.html).toContain('id="panorama"');
		expect(before[2]?.html).toContain('id="timeline"');
		expect(before[5]?.text).toContain("Works 20:00–20:04. Leaves 2.1° of axis error (95 %).");
		expect(before[6]?.text).toContain("Turn the pan: 46.1° counter-clockwise");
		expect(before[7]?.markdown).toContain("core over the gable");
		await opened.type(1, { start: { line: 2, character: 13 }, end: { line: 2, character: 14 } }, "9");
		const after = await ask();
		// 39.4123 S: the site, its night, both ways and the targets are others; the lens and the tracker are not.
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
		expect(after[1]?.text).toContain("Pole altitude: 39.41°");
	});

	test("markup in a plan stays text in every form", async () => {
		const opened = await Opened.open(
			sampleText("roofless-chapel.lode.yaml")
				.replace("Core over", "<img src=x onerror=alert(1)> [x](command:y) Core over")
				.replaceAll("water tower", "<script>b</script>"),
		);
		for (const { html, markdown } of await client.request<Output[]>("lodebook/cellOutputs", { uri: opened.uri })) {
			expect(html).not.toMatch(/<img|<script/);
			expect(markdown).not.toMatch(/<img|<script|\]\(command/);
		}
	});

	test("kinds of cells to add: those that may stand again or are not there, each with a text that reads", async () => {
		const opened = await Opened.open("plan:\n  title: A\n---\nsite:\n  name: B\n");
		const kinds = await client.request<{ label: string; description: string; text: string }[]>("lodebook/cellKinds", {
			uri: opened.uri,
		});
		expect(kinds.map(({ label }) => label)).toEqual(["night", "lens", "tracker", "method", "targets", "note", "log"]);
		expect(kinds[0]).toMatchObject({
			description: "the plan needs one",
			text: expect.stringContaining("night:\n  date:"),
		});
	});

	test("a notebook that is not open has none", async () => {
		expect(await client.request("lodebook/cellOutputs", { uri: "file:///none.lode.yaml" })).toBe(null);
		expect(await client.request("lodebook/cellKinds", { uri: "file:///none.lode.yaml" })).toBe(null);
	});
});
