/** A server for the tests of one file, plans opened in it, and edits as it sends them. */
import { readFileSync } from "node:fs";
import { afterAll, beforeAll } from "vitest";
import type { ClientCapabilities, Range, TextEdit } from "vscode-languageserver";
import { applyEdits } from "../../shared/text/edits.ts";
import { TestClient } from "./client.ts";

export const sample = readFileSync(new URL("../../samples/roofless-chapel.lode.yaml", import.meta.url), "utf8");

/** Starts a server before the file's tests, and stops it after them. */
export function serve(
	capabilities: ClientCapabilities = {},
	initializationOptions: object = {},
): {
	readonly client: TestClient;
	readonly fresh: () => string;
	readonly opened: (text: string) => Promise<string>;
} {
	const client = new TestClient();
	let count = 0;
	const fresh = (): string => `file:///plans/${++count}.lode.yaml`;
	beforeAll(async () => {
		await client.start(capabilities, null, initializationOptions);
	});
	afterAll(() => client.stop());
	return {
		client,
		fresh,
		opened: async (text) => {
			const uri = fresh();
			await client.open(uri, text);
			return uri;
		},
	};
}

export const offsetOf = (text: string, { line, character }: Range["start"]): number =>
	text
		.split("\n")
		.slice(0, line)
		.reduce((sum, one) => sum + one.length + 1, 0) + character;

export const applied = (text: string, edits: readonly TextEdit[]): string =>
	applyEdits(
		text,
		edits.map(({ range, newText }) => ({
			from: offsetOf(text, range.start),
			to: offsetOf(text, range.end),
			text: newText,
		})),
	);
