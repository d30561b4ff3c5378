import { mkdirSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type {
	CodeAction,
	CodeLens,
	CompletionItem,
	CompletionList,
	DocumentHighlight,
	DocumentLink,
	DocumentSymbol,
	FoldingRange,
	InlayHint,
	Location,
	Range,
	SelectionRange,
	SemanticTokens,
	TextEdit,
	WorkspaceEdit,
} from "vscode-languageserver";
import { exampleText } from "../../shared/findings/example-plan.ts";
import { RULES } from "../../shared/findings/rules.ts";
import { applyEdits } from "../../shared/text/edits.ts";
import { checkText, codesOf, cursor, planWith } from "../plan-text.ts";
import { positionOf, TestClient } from "./client.ts";

const sample = readFileSync(new URL("../../samples/roofless-chapel.lode.yaml", import.meta.url), "utf8");

let client: TestClient;
let count = 0;
beforeAll(async () => {
	client = await new TestClient().start();
});
afterAll(() => client.stop());

async function opened(text: string): Promise<string> {
	const uri = `file:///features/${++count}.lode.yaml`;
	await client.open(uri, text);
	return uri;
}
const offsetOf = (text: string, { line, character }: Range["start"]): number =>
	text
		.split("\n")
		.slice(0, line)
		.reduce((sum, one) => sum + one.length + 1, 0) + character;
const applied = (text: string, edits: readonly TextEdit[]): string =>
	applyEdits(
		text,
		edits.map(({ range, newText }) => ({
			from: offsetOf(text, range.start),
			to: offsetOf(text, range.end),
			text: newText,
		})),
	);

describe("completion", () => {
	async function complete(
		marked: string,
	): Promise<{ readonly items: CompletionItem[]; readonly accept: (label: string) => string }> {
		const { text, offset } = cursor(marked);
		const uri = await opened(text);
		const { items } = await client.request<CompletionList>("textDocument/completion", {
			textDocument: { uri },
			position: positionOf(text, offset),
		});
		const sorted = [...items].sort((a, b) => ((a.sortText ?? "") < (b.sortText ?? "") ? -1 : 1));
		return {
			items: sorted,
			accept: (label) => {
				const edit = sorted.find((item) => item.label === label)?.textEdit as TextEdit | undefined;
				if (!edit) throw new Error(`no ${label} among ${sorted.map((item) => item.label).join(", ")}`);
				return applied(text, [edit]);
			},
		};
	}
	const labels = (items: readonly CompletionItem[]): readonly string[] => items.map(({ label }) => label);

	test("kinds of cells, missing required ones first, with a skeleton that reads without a problem", async () => {
		const { items, accept } = await complete("plan:\n  title: A\n---\n$0");
		expect(labels(items).slice(0, 5)).toEqual(["site", "night", "lens", "method", "targets"]);
		expect(labels(items)).not.toContain("plan");
		for (const kind of labels(items))
			expect(
				codesOf(accept(kind)).filter(
					(code) =>
						code.startsWith("structure/") &&
						code !== "structure/missing-cell" &&
						code !== "structure/unknown-reference",
				),
				kind,
			).toEqual([]);
		expect((await complete("$0")).items.length).toBe(9);
		expect(labels((await complete("---\nsi$0")).items)).toContain("site");
		expect((await complete("plan:\n  title: A\n$0")).items).toEqual([]);
	});

	test("keys, missing required ones first, those of the method's kind, none twice", async () => {
		const site = await complete("site:\n  name: A\n  $0");
		expect(labels(site.items).slice(0, 2)).toEqual(["latitude", "longitude"]);
		expect(labels(site.items)).not.toContain("name");
		expect(site.accept("latitude")).toBe("site:\n  name: A\n  latitude: ");
		expect(site.accept("landmarks")).toBe("site:\n  name: A\n  landmarks:\n    - ");
		const method = await complete("method:\n  kind: square-laser\n  $0");
		expect(labels(method.items).slice(0, 2)).toEqual(["guide-star", "offset"]);
		expect(labels(method.items)).not.toContain("landmark");
		expect((await complete("lens:\n  foc$0: ")).accept("focal-length")).toBe("lens:\n  focal-length: ");
		expect((await complete("targets:\n  - { name: a, $0 }")).accept("aim")).toBe("targets:\n  - { name: a, aim:  }");
		expect(labels((await complete("site:\n  landmarks:\n    - name: x\n      $0")).items)).toEqual([
			"latitude",
			"longitude",
			"elevation",
			"bearing",
			"altitude",
		]);
	});

	test("guide stars ranked by how well they work tonight, with place, time and miss", async () => {
		const { items, accept } = await complete(sample.replace("eta Virginis\n", "$0\n"));
		expect(items[0]).toMatchObject({
			label: "zeta Virginis",
			detail: expect.stringMatching(/^21:17, 58\.\d° high, misses by 0\.7\d°, magnitude 3\.4/),
		});
		expect(labels(items).indexOf("eta Virginis")).toBeLessThan(6);
		// As many as are read, the rest as one types on: the list says that it is cut.
		expect(labels(items).length).toBe(250);
		expect(labels(items)).toContain("Sirius");
		const typed = await complete(planWith({ method: 'kind: square-laser\nguide-star: p5 ori$0\nat: "20:01"' }));
		expect(labels(typed.items)).toContain("pi5 Orionis");
		expect(typed.items.length).toBeLessThan(250);
		expect(codesOf(accept("eta Virginis"))).toEqual([]);
	});

	test("values: words, sensors, zones, names, bodies, times when things happen; block and flow, quoted and half-typed", async () => {
		expect(labels((await complete("method:\n  kind: $0")).items)).toContain("star-sweep");
		expect(labels((await complete("lens:\n  sensor: f$0")).items)).toContain("full-frame");
		expect(labels((await complete(sample.replace("timezone: Africa/Johannesburg", "timezone: $0"))).items)[0]).toBe(
			"Africa/Johannesburg",
		);
		expect(labels((await complete(sample.replace("landmark: water tower", "landmark: $0"))).items)).toEqual([
			"water tower",
		]);
		expect(labels((await complete(sample.replace("lens: wide\n    at", "lens: $0\n    at"))).items)).toEqual(["wide"]);
		expect(labels((await complete(sample.replace("aim: galactic-centre", "aim: $0"))).items)).toContain(
			"galactic-centre",
		);
		const clock = await complete(sample.replace('from: "20:30"', 'from: "2$0"'));
		expect(clock.items.find(({ detail }) => detail === "astronomical dusk")?.label).toBe("19:06");
		expect(clock.accept("19:06")).toContain('from: "19:06"\n');
		const flow = await complete("method: { kind: sky-$0 }");
		expect(flow.accept("sky-bearing")).toBe("method: { kind: sky-bearing }");
		expect(labels((await complete("method:\n  stars: [Spica, $0]")).items)).toContain("Mintaka");
	});

	test("nothing in comments and notes", async () => {
		expect((await complete("site: # $0")).items).toEqual([]);
		expect((await complete("note: |\n  a$0")).items).toEqual([]);
	});
});

describe("code actions", () => {
	const actions = async (text: string, from: number, to = from, only?: readonly string[]): Promise<CodeAction[]> => {
		const uri = await opened(text);
		const range = { start: positionOf(text, from), end: positionOf(text, to) };
		return client.request("textDocument/codeAction", {
			textDocument: { uri },
			range,
			context: { diagnostics: [], ...(only ? { only } : {}) },
		});
	};
	const result = (text: string, action: CodeAction): string =>
		applied(text, Object.values((action.edit as WorkspaceEdit).changes ?? {})[0] as TextEdit[]);

	test("every finding with a way out has its action, and taking it mends it", async () => {
		let seen = 0;
		for (const rule of RULES) {
			const text = exampleText(rule.wrong);
			for (const finding of checkText(text).filter(({ code, fixes }) => code === rule.code && fixes.length > 0)) {
				const found = await actions(text, finding.from, finding.to, ["quickfix"]);
				for (const { title } of finding.fixes) {
					const action = found.find((one) => one.title === title);
					expect(action, `${rule.code}: ${title}`).toBeDefined();
					seen++;
				}
			}
		}
		expect(seen).toBeGreaterThan(35);
	}, 60_000);

	test("a star that works; the time at which this star works; comments and style stay", async () => {
		const text = sample.replace('at: "20:01"', 'at: "21:30"   # by the watch');
		const found = await actions(text, text.indexOf("21:30"));
		const titles = found.map(({ title }) => title);
		expect(titles[0]).toMatch(/^Change the time to 20:0\d$/);
		const fixed = result(text, found[0] as CodeAction);
		expect(fixed).toMatch(/at: "20:0\d" {3}# by the watch/);
		expect(codesOf(fixed)).toEqual([]);
	});

	test("all that is safe, at once", async () => {
		const text = planWith({ night: "date: 2027-06-05\nariive: 17:00\nleave: 02:00" });
		const [all] = await actions(text, 0, 0, ["source.fixAll"]);
		expect(all?.kind).toBe("source.fixAll.lodebook");
		expect(codesOf(result(text, all as CodeAction)).filter((code) => code !== "structure/unquoted-clock")).toEqual([]);
	});

	test("refactorings: true and magnetic, decimal and minutes, more and shorter frames", async () => {
		const rewrite = async (text: string, at: string) => {
			const found = await actions(text, text.indexOf(at) + 1, text.indexOf(at) + 1, ["refactor.rewrite"]);
			return found.map((action) => ({ title: action.title, text: result(text, action) }));
		};
		const coordinates = await rewrite(planWith({}), "32.4123 S");
		expect(coordinates[0]?.title).toBe("Write as 32° 24′ 44.3″ S");
		expect(await rewrite(coordinates[0]?.text as string, "32° 24′ 44.3″ S")).toEqual([
			expect.objectContaining({ title: "Write as 32.412306 S" }),
		]);
		const [magnetic] = await rewrite(sample, "95, altitude");
		expect(magnetic?.title).toMatch(/^Write as magnetic: 121\.6°M$/);
		const [halves] = await rewrite(planWith({}), "60 s");
		expect(halves?.title).toBe("Split into 40 frames of 30 s");
		expect(halves?.text).toContain("exposure: 30 s\n    frames: 40");
	});
});

describe("what stands beside the text", () => {
	test("inlay hints at the ends of lines", async () => {
		const uri = await opened(sample);
		const hints = await client.request<InlayHint[]>("textDocument/inlayHint", {
			textDocument: { uri },
			range: { start: { line: 0, character: 0 }, end: { line: 1000, character: 0 } },
		});
		const at = (needle: string) =>
			hints.find(({ position }) => position.line === positionOf(sample, sample.indexOf(needle)).line)?.label;
		expect(at("latitude: 32.4123")).toBe("pole 32.41°, hidden: 17.7° below the skyline");
		expect(at("guide-star: eta")).toMatch(/^58\.42°, 000\.6°, misses by 0\.88°$/);
		expect(at("exposure: 90 s")).toMatch(/^holds 1 min 40 s$/);
		expect(at("date: 2027")).toMatch(/^dark 19:06, to 06:05, Moon 2 %$/);
		for (const { position } of hints)
			expect(sample.split("\n")[position.line]?.slice(position.character).replace(/#.*/, "").trim()).toBe("");
	});

	test("code lenses over cells name commands that exist", async () => {
		const uri = await opened(sample);
		const lenses = await client.request<CodeLens[]>("textDocument/codeLens", { textDocument: { uri } });
		expect(lenses.map(({ command }) => command?.title)).toEqual([
			"Nothing to mend",
			"Open preview",
			"6 h 54 min dark and moonless",
			expect.stringMatching(/^\d guide stars tonight, the best zeta Virginis at 21:17$/),
		]);
		const manifest = JSON.parse(readFileSync(new URL("../../package.json", import.meta.url), "utf8"));
		const known = [
			...manifest.contributes.commands.map(({ command }: { command: string }) => command),
			"workbench.actions.view.problems",
		];
		for (const { command } of lenses) expect(known).toContain(command?.command);
	});

	test("outline, workspace symbols", async () => {
		const uri = await opened(sample);
		const symbols = await client.request<DocumentSymbol[]>("textDocument/documentSymbol", { textDocument: { uri } });
		expect(symbols.map(({ name }) => name)).toEqual([
			"Core over the roofless chapel",
			"Roofless chapel",
			"night",
			"wide",
			"tracker",
			"square-laser",
			"landmark-bearing",
			"targets",
			"note",
		]);
		expect(symbols[1]?.children?.map(({ name }) => name)).toEqual(["water tower"]);
		expect(symbols[7]?.children?.map(({ name }) => name)).toEqual(["gable by last light", "core over the gable"]);
		const within = (outer: Range, inner: Range) =>
			offsetOf(sample, outer.start) <= offsetOf(sample, inner.start) &&
			offsetOf(sample, inner.end) <= offsetOf(sample, outer.end);
		for (const symbol of symbols)
			for (const child of symbol.children ?? [])
				expect(within(symbol.range, child.range) && within(child.range, child.selectionRange)).toBe(true);
		const found = await client.request<{ name: string }[]>("workspace/symbol", { query: "water" });
		expect(found.map(({ name }) => name)).toContain("water tower");
	});

	test("folding, selection", async () => {
		const uri = await opened(sample);
		const folds = await client.request<FoldingRange[]>("textDocument/foldingRange", { textDocument: { uri } });
		const line = (needle: string) => positionOf(sample, sample.indexOf(needle)).line;
		expect(folds).toContainEqual({ startLine: line("site:"), endLine: line("- { name: water") });
		expect(folds).toContainEqual({ startLine: line("  landmarks:"), endLine: line("- { name: water") });
		const [selection] = await client.request<SelectionRange[]>("textDocument/selectionRange", {
			textDocument: { uri },
			positions: [positionOf(sample, sample.indexOf("eta Virginis\n") + 2)],
		});
		const texts: string[] = [];
		for (let at: SelectionRange | undefined = selection; at; at = at.parent)
			texts.push(sample.slice(offsetOf(sample, at.range.start), offsetOf(sample, at.range.end)));
		expect(texts.slice(0, 2)).toEqual(["eta Virginis", "guide-star: eta Virginis"]);
		expect(texts[texts.length - 1]).toBe(sample);
	});

	test("semantic tokens do not overlap and lie in their lines", async () => {
		const uri = await opened(sample);
		const { data } = await client.request<SemanticTokens>("textDocument/semanticTokens/full", {
			textDocument: { uri },
		});
		const words: string[] = [];
		let [line, character] = [0, 0];
		for (let i = 0; i < data.length; i += 5) {
			const [deltaLine = 0, delta = 0, length = 0] = data.slice(i, i + 3);
			line += deltaLine;
			character = deltaLine === 0 ? character + delta : delta;
			words.push(sample.split("\n")[line]?.slice(character, character + length) ?? "");
		}
		expect(words).toEqual(
			expect.arrayContaining([
				"32.4123 S",
				"eta Virginis",
				'"20:01"',
				"24 mm",
				"wide",
				"galactic-centre",
				"2027-06-05",
			]),
		);
	});
});

describe("names", () => {
	const at = async (marked: string) => {
		const { text, offset } = cursor(marked);
		return { uri: await opened(text), text, position: positionOf(text, offset) };
	};

	test("definition, references, highlights, rename of a lens, a landmark, an opening", async () => {
		const { uri, text, position } = await at(sample.replace("lens: wide\n    at", "lens: wi$0de\n    at"));
		const definition = await client.request<Location[]>("textDocument/definition", { textDocument: { uri }, position });
		expect(
			definition.map(({ range }) => text.slice(offsetOf(text, range.start) - 6, offsetOf(text, range.end))),
		).toEqual(["name: wide"]);
		expect(
			await client.request<Location[]>("textDocument/references", {
				textDocument: { uri },
				position,
				context: { includeDeclaration: true },
			}),
		).toHaveLength(3);
		expect(
			await client.request<DocumentHighlight[]>("textDocument/documentHighlight", { textDocument: { uri }, position }),
		).toHaveLength(3);
		const edit = await client.request<WorkspaceEdit>("textDocument/rename", {
			textDocument: { uri },
			position,
			newName: "24: the wide one",
		});
		const renamed = applied(text, edit.changes?.[uri] ?? []);
		expect(renamed.match(/"24: the wide one"/g)).toHaveLength(3);
		expect(codesOf(renamed)).toEqual([]);
	});

	test("what has no name cannot be renamed", async () => {
		const { uri, position } = await at(sample.replace("elevation: 1450", "elevation: 14$050"));
		expect(await client.request("textDocument/prepareRename", { textDocument: { uri }, position })).toBeNull();
		await expect(
			client.request("textDocument/rename", { textDocument: { uri }, position, newName: "x" }),
		).rejects.toThrow(/Only names/);
	});
});

describe("formatting", () => {
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
			"night:   # tonight\n  date: 2027-06-05  \n  arrive: 17:00   # early\n  'leave': 02:00\n---\nmethod: { kind: compass, at: 21:10 }\n\n\n";
		const once = await formatted(text);
		expect(once).toBe(
			'night:   # tonight\n  date: 2027-06-05\n  arrive: "17:00"   # early\n  \'leave\': "02:00"\n---\nmethod: { kind: compass, at: "21:10" }\n',
		);
		expect(await formatted(once)).toBe(once);
		expect(await formatted(sample)).toBe(sample);
		expect(await formatted(text.replace(/\n/g, "\r\n"))).toBe(once.replace(/\n/g, "\r\n"));
	});

	test("what does not parse, and what a note says, stays as it is", async () => {
		const broken = "night: [  \n";
		expect(await formatted(broken)).toBe(broken);
		const note = "note: |\n  two spaces  \n  here\n";
		expect(await formatted(note)).toBe(note);
	});
});

describe("cells taken from other plans", () => {
	let puller: TestClient;
	const folder = mkdtempSync(join(tmpdir(), "lodebook-reuse-"));
	const uriOf = (name: string) => pathToFileURL(join(folder, name)).href;
	const taking = planWith({ site: "from: ../stands/fold.lode.yaml", lens: null }).replace(
		"---\nnight",
		"---\nlens:\n  from: ../stands/kit.lode.yaml\n  f-number: 2.8\n---\nnight",
	);
	const siteBody = planWith({}).split("---\n")[1] as string;

	beforeAll(async () => {
		mkdirSync(join(folder, "stands"));
		mkdirSync(join(folder, "plans"));
		writeFileSync(join(folder, "stands/fold.lode.yaml"), siteBody);
		writeFileSync(join(folder, "stands/kit.lode.yaml"), planWith({}).split("---\n")[3] as string);
		puller = new TestClient();
		await puller.start({}, pathToFileURL(folder).href);
	});
	afterAll(() => puller.stop());

	test("a plan whose site and lens stand in other files checks clean, and is told when they change", async () => {
		const uri = uriOf("plans/a.lode.yaml");
		await puller.open(uri, taking);
		await expect
			.poll(async () => (await puller.diagnostics(uri)).map(({ code }) => code), { timeout: 5000 })
			.toEqual([]);
		const spot = uriOf("stands/fold.lode.yaml");
		await puller.open(spot, siteBody);
		await puller.change(spot, [{ text: siteBody.replace("32.4123 S", "32.4123 N") }]);
		await expect
			.poll(async () => (await puller.diagnostics(uri)).map(({ code }) => code), { timeout: 5000 })
			.toContain("site/hemisphere");
		const links = await puller.request<DocumentLink[]>("textDocument/documentLink", { textDocument: { uri } });
		expect(links.map(({ target }) => target)).toEqual([spot, uriOf("stands/kit.lode.yaml")]);
		const definition = await puller.request<Location>("textDocument/definition", {
			textDocument: { uri },
			position: positionOf(taking, taking.indexOf("../stands/fold") + 3),
		});
		expect(definition).toMatchObject({ uri: spot, range: { start: { line: 0, character: 0 } } });
	});

	test("a missing file, a path out of the workspace, a circle: findings, and nothing outside is read", async () => {
		writeFileSync(join(folder, "plans/one.lode.yaml"), "site: { from: two.lode.yaml }\n");
		writeFileSync(join(folder, "plans/two.lode.yaml"), "site: { from: one.lode.yaml }\n");
		for (const [from, words] of [
			["none.lode.yaml", /There is no plan at/],
			["../../../../etc/passwd.lode.yaml", /leads out of the workspace|There is no plan/],
			["/etc/passwd", /Only a relative path/],
			["file:///etc/passwd", /Only a relative path/],
			["one.lode.yaml", /circle/],
		] as const) {
			const uri = uriOf(`plans/b${++count}.lode.yaml`);
			await puller.open(uri, planWith({ site: `from: ${from}` }));
			await expect
				.poll(
					async () => (await puller.diagnostics(uri)).find(({ code }) => code === "reuse/cannot-take")?.message ?? "",
					{ timeout: 5000 },
				)
				.toMatch(words);
		}
	});
});
