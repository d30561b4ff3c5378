/**
 * The server under random edits, requests, cancellations and nonsense: it answers or refuses, stays up, and in the end
 * says of the text what a fresh server says. LODEBOOK_FUZZ sets the number of runs, LODEBOOK_SEED repeats one.
 */

import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { Diagnostic } from "vscode-languageserver";
import { TestClient } from "./client.ts";

const RUNS = Number(process.env.LODEBOOK_FUZZ ?? 40);
const SEED = process.env.LODEBOOK_SEED === undefined ? undefined : Number(process.env.LODEBOOK_SEED);

const folder = new URL("../../samples/", import.meta.url);
const samples = readdirSync(folder)
	.filter((name) => name.endsWith(".lode.yaml"))
	.map((name) => readFileSync(new URL(name, folder), "utf8"));

/** Pieces that break things: YAML's own, other encodings' leftovers, huge numbers, controls. */
const NASTY = [
	"---\n",
	"...\n",
	"\t",
	"{ [",
	"] }",
	"&a [*a, *a]",
	"*nowhere",
	"<<: *a",
	"!!js/function x",
	"%TAG ! x\n---\n",
	"\uFEFF",
	"\0",
	"\uD800",
	"\u202Eevil",
	"\r",
	"\r\n",
	`${"9".repeat(4000)} mm`,
	"1e999°",
	"- ".repeat(300),
	"[".repeat(2000),
	"'",
	'"',
	"|\n",
	"# ",
	": ",
	"site:\n",
	"night: { date: 2027-02-31 }\n",
	"at: 25:61\n",
	"__proto__: 1\n",
	"constructor: { prototype: 1 }\n",
	"<<<<<<< ours\n=======\n>>>>>>> theirs\n",
	"latitude: 90 N\n",
	"latitude: -90\nlongitude: 180\n",
	"date: 1899-12-31\n",
	"date: 2101-01-01\n",
	"😀",
];

const METHODS = [
	"hover",
	"completion",
	"definition",
	"references",
	"documentHighlight",
	"rename",
	"prepareRename",
	"documentSymbol",
	"foldingRange",
	"selectionRange",
	"inlayHint",
	"codeLens",
	"codeAction",
	"formatting",
	"documentLink",
	"semanticTokens/full",
	"diagnostic",
	"nonsense",
];

const step = fc.oneof(
	{
		weight: 4,
		arbitrary: fc.record({
			type: fc.constant("edit" as const),
			from: fc.nat(),
			length: fc.nat(30),
			text: fc.oneof(fc.constantFrom(...NASTY), fc.string({ maxLength: 12 })),
		}),
	},
	{
		weight: 3,
		arbitrary: fc.record({
			type: fc.constant("ask" as const),
			method: fc.constantFrom(...METHODS),
			line: fc.integer({ min: -2, max: 200 }),
			character: fc.integer({ min: -2, max: 300 }),
			cancel: fc.boolean(),
		}),
	},
	{
		weight: 1,
		arbitrary: fc.record({ type: fc.constant("nonsense" as const), params: fc.jsonValue({ maxDepth: 3 }) }),
	},
);

let client: TestClient;
let fresh: TestClient;
beforeAll(async () => {
	[client, fresh] = await Promise.all([new TestClient().start(), new TestClient().start()]);
});
afterAll(async () => {
	await Promise.all([client.stop(), fresh.stop()]);
});

describe("the server under fire", () => {
	test(
		`${RUNS} random sessions: it stays up, and says in the end what a fresh one says`,
		async () => {
			let run = 0;
			await fc.assert(
				fc.asyncProperty(
					fc.constantFrom(...samples),
					fc.array(step, { minLength: 1, maxLength: 25 }),
					async (start, steps) => {
						const uri = `file:///fuzz/${++run}.lode.yaml`;
						let text = start;
						let version = 1;
						await client.open(uri, text);
						const answers: Promise<unknown>[] = [];
						for (const one of steps) {
							if (one.type === "edit") {
								const from = one.from % (text.length + 1);
								const until = Math.min(text.length, from + one.length);
								const range = { start: positionAt(text, from), end: positionAt(text, until) };
								// An offset inside a line break is no position: the whole text goes then.
								const next = text.slice(0, from) + one.text + text.slice(until);
								const exact = offsetAt(text, range.start) === from && offsetAt(text, range.end) === until;
								version = await client.change(uri, [exact ? { range, text: one.text } : { text: next }]);
								text = next;
							} else if (one.type === "ask") {
								const position = { line: one.line, character: one.character };
								const range = { start: position, end: position };
								answers.push(
									client
										.request(`textDocument/${one.method}`, {
											textDocument: { uri },
											position,
											positions: [position],
											range,
											newName: "n",
											context: { diagnostics: [], includeDeclaration: true },
											options: { tabSize: 2, insertSpaces: true },
										})
										.catch((error: unknown) => error),
								);
							} else {
								answers.push(
									client.request("textDocument/hover", one.params as object).catch((error: unknown) => error),
								);
								await client.connection.sendNotification("textDocument/didChange", one.params as object);
							}
						}
						await Promise.all(answers);
						const said = await client.request<{ items: Diagnostic[] }>("textDocument/diagnostic", {
							textDocument: { uri },
						});
						await fresh.open(uri, text);
						const expected = await fresh.request<{ items: Diagnostic[] }>("textDocument/diagnostic", {
							textDocument: { uri },
						});
						expect(said.items.map(({ code, range, message }) => ({ code, range, message }))).toEqual(
							expected.items.map(({ code, range, message }) => ({ code, range, message })),
						);
						expect(version).toBeGreaterThan(0);
						for (const one of [client, fresh])
							await one.connection.sendNotification("textDocument/didClose", { textDocument: { uri } });
					},
				),
				{ numRuns: RUNS, ...(SEED === undefined ? {} : { seed: SEED }) },
			);
			expect(client.process.exitCode).toBeNull();
		},
		20_000 + RUNS * 2_000,
	);
});

/** Line breaks as the protocol has them: \n, \r\n, \r. */
function positionAt(text: string, offset: number): { line: number; character: number } {
	const lines = text.slice(0, offset).split(/\r\n|\n|\r/);
	return { line: lines.length - 1, character: (lines[lines.length - 1] as string).length };
}

function offsetAt(text: string, { line, character }: { line: number; character: number }): number {
	const breaks = /\r\n|\n|\r/g;
	let start = 0;
	for (let i = 0; i < line; i++) {
		const found = breaks.exec(text);
		if (!found) return Number.NaN;
		start = found.index + found[0].length;
	}
	return start + character;
}
