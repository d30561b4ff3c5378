import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Diagnostic, Hover, Location } from "vscode-languageserver";
import { TextDocument } from "vscode-languageserver-textdocument";
import { textOfNotebook } from "../../shared/plan/notebook.ts";
import { Opened, pushed, SAMPLES, sampleText, TYPE } from "./opened-notebook.ts";
import { serve } from "./served.ts";

const { client, fresh } = serve({ notebookDocument: { synchronization: {} } });

const sorted = (list: readonly Diagnostic[]): readonly string[] =>
	list.map(({ range, message, code }) => JSON.stringify([range, code, message])).sort();

describe("a notebook's cells are one plan", () => {
	test("says that it takes notebooks, to clients that have them", () => {
		expect(client.initialized.capabilities.notebookDocumentSync).toEqual({ notebookSelector: [{ notebook: TYPE }] });
	});

	test.each(SAMPLES)("%s: the findings of the plain text, each in its cell", async (name) => {
		const opened = await Opened.open(client, sampleText(name));
		const found = (await pushed(client, opened)).flatMap(([uri, list]) =>
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
			const opened = await Opened.open(client, text);
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
		const opened = await Opened.open(client, sampleText("roofless-chapel.lode.yaml"), false);
		expect((await pushed(client, opened)).flatMap(([, list]) => list)).toEqual([]);
	});

	test("an edit of the night changes what is found in the method's cell, and taking it back takes it away", async () => {
		const opened = await Opened.open(client, sampleText("roofless-chapel.lode.yaml"));
		// 2027-06-05 → 2027-09-05
		await opened.type(2, { start: { line: 1, character: 14 }, end: { line: 1, character: 15 } }, "9");
		const found = await pushed(client, opened);
		const [uri, list] = found.find(([, all]) => all.some(({ code }) => String(code).startsWith("method/"))) ?? [];
		expect(uri).toBe(opened.cell(5));
		expect(list?.map(({ code }) => code)).toContain("method/guide-star-not-there");
		await opened.type(2, { start: { line: 1, character: 14 }, end: { line: 1, character: 15 } }, "6");
		expect((await pushed(client, opened)).flatMap(([, all]) => all)).toEqual([]);
	});

	test("cells added and taken away: the plan has and has not what they say", async () => {
		const opened = await Opened.open(client, sampleText("roofless-chapel.lode.yaml"));
		await opened.structure(3, 1);
		const codes = (await pushed(client, opened)).flatMap(([, list]) => list.map(({ code }) => code));
		expect(codes).toContain("structure/unknown-reference");
		await opened.structure(3, 0, [
			"lens:\n  name: wide\n  focal-length: 24 mm\n  f-number: 2\n  sensor: 36 x 24 mm\n  pixels: 6000 x 4000",
		]);
		expect((await pushed(client, opened)).flatMap(([, list]) => list.map(({ code }) => code))).toEqual([]);
	});

	test("a note that was added and not written yet says nothing", async () => {
		const opened = await Opened.open(client, sampleText("roofless-chapel.lode.yaml"));
		const added = await opened.note(3);
		expect(client.pushed(added)).toEqual([]);
		expect((await pushed(client, opened)).flatMap(([, all]) => all)).toEqual([]);
		expect(client.pushed(added)).toEqual([]);
		const { html } = await client.request<{ html: string }>("lodebook/page", { uri: opened.cell(0) });
		expect(html.includes("Ready: no problems found.")).toBe(true);
	});

	test("cells that change places: the method that stands first is the one the plan goes by", async () => {
		const opened = await Opened.open(client, sampleText("roofless-chapel.lode.yaml"));
		const ask = async (): Promise<string> =>
			(await client.request<{ html: string }>("lodebook/page", { uri: opened.cell(0) })).html.match(
				/Align: ?(?:<!-- -->)?([\w -]+)/,
			)?.[1] ?? "";
		expect(await ask()).toBe("right-angle laser");
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
		expect(await ask()).toBe("bearing from a landmark");
	});

	test("closing it takes its findings away", async () => {
		const opened = await Opened.open(client, sampleText("mistakes.lode.yaml"));
		expect((await pushed(client, opened)).flatMap(([, list]) => list).length).toBeGreaterThan(10);
		await opened.close();
		expect((await pushed(client, opened)).flatMap(([, list]) => list)).toEqual([]);
	});
});

test.each(SAMPLES)(
	"%s: outline, folds, hints, lenses, tokens, links of all cells are those of the plain text",
	async (name) => {
		const opened = await Opened.open(client, sampleText(name));
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
					const opened = await Opened.open(client, sampleText(name));
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
						const scratch = fresh();
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

	test("a plan that is open twice has its findings in the face that is in front alone, as text and as a notebook", async () => {
		const text = sampleText("mistakes.lode.yaml");
		const opened = await Opened.open(client, text);
		const inCells = async () => (await pushed(client, opened)).flatMap(([, list]) => list).length;
		const inText = async () => {
			await client.request("lodebook/pageStyle", {});
			return client.pushed(opened.uri).length;
		};
		const front = (face: string) =>
			client.connection.sendNotification("lodebook/faceInFront", { uri: opened.uri, face });
		const all = await inCells();
		expect(all).toBeGreaterThan(3);
		await client.open(opened.uri, text);
		await expect.poll(inText).toBe(all);
		// Nobody has said which is in front.
		expect(await inCells()).toBe(all);
		await front("notebook");
		await expect.poll(inText).toBe(0);
		expect(await inCells()).toBe(all);
		await front("text");
		await expect.poll(inText).toBe(all);
		expect(await inCells()).toBe(0);
		// A notebook that the editor keeps without a tab says nothing, whatever was in front; the text has all of it.
		await front("notebook");
		await expect.poll(inText).toBe(0);
		const shown = (is: boolean) =>
			client.connection.sendNotification("lodebook/notebookShown", { uri: opened.uri, shown: is });
		await shown(false);
		await expect.poll(inText).toBe(all);
		expect(await inCells()).toBe(0);
		await shown(true);
		await expect.poll(inText).toBe(0);
		expect(await inCells()).toBe(all);
		await shown(false);
		await client.connection.sendNotification("textDocument/didClose", { textDocument: { uri: opened.uri } });
		await expect.poll(inText).toBe(0);
		expect(await inCells()).toBe(0);
		await shown(true);
		await expect.poll(inCells).toBe(all);
		await client.open(opened.uri, text);
		await front("text");
		await expect.poll(inText).toBe(all);
		expect(await inCells()).toBe(0);
		// Closed, it leaves them to the other one.
		await client.connection.sendNotification("textDocument/didClose", { textDocument: { uri: opened.uri } });
		await expect.poll(inCells).toBe(all);
	});
});
