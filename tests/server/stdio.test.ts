import { readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { Hover } from "vscode-languageserver";
import { cursor, planWith } from "../plan-text.ts";
import { positionOf, TestClient } from "./client.ts";

const sample = readFileSync(new URL("../../samples/roofless-chapel.lode.yaml", import.meta.url), "utf8");

describe("the language server over standard input and output", () => {
	let client: TestClient;
	let count = 0;
	const fresh = () => `file:///plans/${++count}.lode.yaml`;

	beforeAll(async () => {
		client = await new TestClient().start();
	});
	afterAll(() => client.stop());

	test("says what it can do", () => {
		expect(client.initialized.capabilities).toMatchObject({
			textDocumentSync: { openClose: true, change: 2 },
			hoverProvider: true,
		});
		expect(client.initialized.capabilities.diagnosticProvider).toBeUndefined();
		expect(client.initialized.serverInfo?.name).toBe("lodebook");
	});

	test("a clean sample has no diagnostics; an edit brings one with its place, code and link, and undoing it takes it away", async () => {
		const uri = fresh();
		await client.open(uri, sample);
		expect(await client.diagnostics(uri)).toEqual([]);
		const from = sample.indexOf("eta Virginis\n");
		const version = await client.change(uri, [
			{ range: { start: positionOf(sample, from), end: positionOf(sample, from + 12) }, text: "Sabik" },
		]);
		const [first, ...others] = await client.diagnostics(uri, version);
		// The second way of the plan works where the first one does not any more.
		expect(others.map(({ code }) => code)).toEqual(["method/fall-back-better"]);
		expect(first).toMatchObject({
			code: "method/guide-star-never-near",
			source: "lodebook",
			severity: 1,
			range: { start: positionOf(sample, from), end: positionOf(sample, from + 5) },
			codeDescription: { href: "lodebook-finding:/method/guide-star-never-near.md" },
		});
		const back = await client.change(uri, [
			{ range: { start: positionOf(sample, from), end: positionOf(sample, from + 5) }, text: "eta Virginis" },
		]);
		expect(await client.diagnostics(uri, back)).toEqual([]);
	});

	const hoverOf = async (marked: string): Promise<string> => {
		const uri = fresh();
		const { text, offset } = cursor(marked);
		await client.open(uri, text);
		const hover = await client.request<Hover | null>("textDocument/hover", {
			textDocument: { uri },
			position: positionOf(text, offset),
		});
		return (hover?.contents as { value: string } | undefined)?.value ?? "";
	};

	test("hover on a key says what it is, its units and what holds without it", async () => {
		const hover = await hoverOf(planWith({}).replace("elevation", "elev$0ation"));
		expect(hover).toContain("Height above sea level");
		expect(hover).toContain("a length in m, km, ft");
		expect(hover).toContain("Without it: 0 m");
	});

	test("hover on a value shows its figures with uncertainty and how they came about", async () => {
		const hover = await hoverOf(planWith({}).replace("32.4123 S", "32.41$023 S"));
		expect(hover).toContain("Pole altitude | **32.41°**");
		expect(hover).toMatch(/Magnetic declination \| \*\*−26\.\d+° ± 0\.5\d°\*\* \| WMM2025/);
	});

	test("hover on the kind of a cell, on a target's name, on a word", async () => {
		expect(await hoverOf(planWith({}).replace("night:", "ni$0ght:"))).toContain("Astronomical dusk | **19:06**");
		expect(await hoverOf(planWith({}).replace("name: core over", "name: co$0re over"))).toContain("Usable");
		expect(await hoverOf(planWith({}).replace("kind:", "ki$0nd:"))).toContain("A laser laid across the tracker");
	});

	test("the same in CRLF, and hover outside of anything is nothing", async () => {
		expect(await hoverOf(planWith({}).replace("32.4123 S", "32.41$023 S").replace(/\n/g, "\r\n"))).toContain(
			"Pole altitude",
		);
		expect(await hoverOf(planWith({}).replace("---\nnight", "-$0--\nnight"))).toBe("");
		expect(await hoverOf("$0")).toBe("");
	});

	test("a plan's text cannot become markup in a hover", async () => {
		const hover = await hoverOf(
			planWith({
				targets:
					'- name: "<img src=x onerror=alert(1)> [click](command:evil) | a | b"\n  aim: galac$0tic-centre\n  exposure: 60 s',
			}),
		);
		expect(hover).not.toMatch(/<img|\]\(command/);
	});

	test("the explanation of a finding is served", async () => {
		expect(await client.request<string>("lodebook/explanation", { code: "method/low-latitude" })).toContain(
			"# The square laser fails near the equator",
		);
		expect(await client.request<string>("lodebook/explanation", { code: "no/such" })).toContain("No such finding");
	});

	test("a document that is not open answers nothing, and the server stays up", async () => {
		expect(
			await client.request("textDocument/hover", {
				textDocument: { uri: "file:///none.lode.yaml" },
				position: { line: 0, character: 0 },
			}),
		).toBeNull();
		expect(await hoverOf(planWith({}).replace("kind:", "ki$0nd:"))).not.toBe("");
	});

	test("messages that are none, and headers that are none, are passed over", async () => {
		const one = await new TestClient().start();
		const { stdin } = one.process;
		if (!stdin) throw new Error("no input");
		for (const body of [
			"{bad}",
			"[]",
			"null",
			'"x"',
			"{}",
			'{"jsonrpc":"2.0"}',
			'{"jsonrpc":"1.0","id":{},"method":5}',
			'{"jsonrpc":"2.0","id":909,"method":"textDocument/hover","params":"x"}',
			'{"jsonrpc":"2.0","id":99,"result":1}',
			"\0",
		]) {
			stdin.write(`Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`);
			expect(await one.request<string>("lodebook/pageStyle", {})).toContain("--paper");
		}
		// Each in a packet of its own: the library drops what came in one packet with a broken header.
		for (const header of ["Content-Length: abc\r\n\r\n", "Nonsense\r\n\r\n"]) {
			stdin.write(header);
			await new Promise((rested) => setTimeout(rested, 100));
		}
		expect(await one.request<string>("lodebook/pageStyle", {})).toContain("--paper");
		await one.stop();
	});

	test("a client that pulls gets a report with a result id, and `unchanged` for it", async () => {
		const puller = await new TestClient().start({ textDocument: { diagnostic: {} } });
		const uri = fresh();
		await puller.open(uri, sample.replace("eta Virginis\n", "Sabik\n"));
		const report = await puller.request<{ kind: string; resultId: string; items: unknown[] }>(
			"textDocument/diagnostic",
			{ textDocument: { uri } },
		);
		expect(report.kind).toBe("full");
		expect(report.items).toHaveLength(2);
		expect(
			await puller.request("textDocument/diagnostic", { textDocument: { uri }, previousResultId: report.resultId }),
		).toEqual({
			kind: "unchanged",
			resultId: report.resultId,
		});
		await puller.stop();
	});
});
