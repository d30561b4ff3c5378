import { expect, test } from "vitest";
import type { Hover } from "vscode-languageserver";
import { cursor, planWith } from "../plan-text.ts";
import { positionOf, TestClient } from "./client.ts";
import { serve } from "./served.ts";

const { client, opened } = serve();

test("says what it can do", () => {
	expect(client.initialized.capabilities).toMatchObject({
		textDocumentSync: { openClose: true, change: 2 },
		hoverProvider: true,
	});
	expect(client.initialized.capabilities.diagnosticProvider).toBeUndefined();
	expect(client.initialized.serverInfo?.name).toBe("lodebook");
});

test("a document that is not open answers nothing, and the server stays up", async () => {
	expect(
		await client.request("textDocument/hover", {
			textDocument: { uri: "file:///none.lode.yaml" },
			position: { line: 0, character: 0 },
		}),
	).toBeNull();
	const { text, offset } = cursor(planWith({}).replace("kind:", "ki$0nd:"));
	const uri = await opened(text);
	const hover = await client.request<Hover>("textDocument/hover", {
		textDocument: { uri },
		position: positionOf(text, offset),
	});
	expect((hover.contents as { value: string }).value).not.toBe("");
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
