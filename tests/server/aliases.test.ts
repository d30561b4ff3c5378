/** A node with an anchor that aliases name again: what is said of it and done to it, is once. */
import { expect, test } from "vitest";
import type {
	CodeAction,
	DocumentSymbol,
	InlayHint,
	Location,
	SemanticTokens,
	TextEdit,
	WorkspaceEdit,
} from "vscode-languageserver";
import { positionOf } from "./client.ts";
import { applied, serve } from "./served.ts";

const { client, opened } = serve();

const PLAN = `site:
  name: A
  latitude: 32.4123 S
  longitude: 54.3622 W
---
night:
  date: 2027-06-05
  arrive: "17:00"
  leave: "02:00"
---
lens:
  name: wide
  focal-length: 24 mm
  sensor: full-frame
  pixels: 6000 x 4000
---
targets:
  - &one
    name: core
    aim: galactic-centre
    lens: wide
    from: 21:30
    exposure: 60 sec nods
  - *one
  - *one
`;

const whole = { start: { line: 0, character: 0 }, end: { line: 100, character: 0 } };

test("diagnostics, tokens, references, hints and symbols", async () => {
	const uri = await opened(PLAN);
	const found = (await client.diagnostics(uri)).map(
		({ code, range, message }) => `${code} ${JSON.stringify(range)} ${message}`,
	);
	expect(found.filter((one) => one.startsWith("structure/unreadable"))).toHaveLength(1);
	expect(found.filter((one) => one.startsWith("structure/unquoted-clock"))).toHaveLength(1);
	expect(found.filter((one, i) => found.indexOf(one) !== i)).toEqual([]);

	const { data } = await client.request<SemanticTokens>("textDocument/semanticTokens/full", { textDocument: { uri } });
	let [line, character] = [0, 0];
	const tokens: string[] = [];
	for (let i = 0; i < data.length; i += 5) {
		const [down = 0, right = 0] = data.slice(i, i + 2);
		[line, character] = [line + down, down === 0 ? character + right : right];
		tokens.push(`${line}:${character}`);
	}
	expect(tokens.length).toBeGreaterThan(8);
	expect(new Set(tokens).size).toBe(tokens.length);

	const position = positionOf(PLAN, PLAN.indexOf("lens: wide") + 7);
	const references = await client.request<Location[]>("textDocument/references", {
		textDocument: { uri },
		position,
		context: { includeDeclaration: true },
	});
	expect(references).toHaveLength(2);

	const hints = await client.request<InlayHint[]>("textDocument/inlayHint", { textDocument: { uri }, range: whole });
	expect(new Set(hints.map(({ position: at }) => JSON.stringify(at))).size).toBe(hints.length);

	const symbols = await client.request<DocumentSymbol[]>("textDocument/documentSymbol", { textDocument: { uri } });
	expect(symbols.find(({ name }) => name === "targets")?.children).toHaveLength(1);
});

test("rename, format, and all safe problems fixed", async () => {
	const uri = await opened(PLAN);
	const edit = await client.request<WorkspaceEdit>("textDocument/rename", {
		textDocument: { uri },
		position: positionOf(PLAN, PLAN.indexOf("lens: wide") + 7),
		newName: "x # y",
	});
	expect(applied(PLAN, edit.changes?.[uri] ?? [])).toBe(
		PLAN.replace("name: wide", 'name: "x # y"').replace("lens: wide", 'lens: "x # y"'),
	);

	const quoted = PLAN.replace("21:30", '"21:30"');
	const edits = await client.request<TextEdit[]>("textDocument/formatting", {
		textDocument: { uri },
		options: { tabSize: 2, insertSpaces: true },
	});
	expect(edits).toHaveLength(1);
	expect(applied(PLAN, edits)).toBe(quoted);

	const actions = await client.request<CodeAction[]>("textDocument/codeAction", {
		textDocument: { uri },
		range: whole,
		context: { diagnostics: [], only: ["source.fixAll"] },
	});
	expect(actions.map((action) => applied(PLAN, action.edit?.changes?.[uri] ?? []))).toEqual([quoted]);
});

test("formatting leaves a text alone whose merge was not finished", async () => {
	const text = "plan:\n  title: A   \n---\nnight:\n<<<<<<< a\n  date: 2027-06-05\n=======\n>>>>>>> b\n";
	const uri = await opened(text);
	expect(
		await client.request<TextEdit[]>("textDocument/formatting", {
			textDocument: { uri },
			options: { tabSize: 2, insertSpaces: true },
		}),
	).toEqual([]);
});
