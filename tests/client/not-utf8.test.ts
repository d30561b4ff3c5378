/** A plan whose bytes are not UTF-8 stands in the editor with U+FFFD for them: the extension's commands leave it alone. */
import { expect, test, vi } from "vitest";
import type { BaseLanguageClient } from "vscode-languageclient";
import { COMMANDS } from "../../shared/protocol/commands.ts";

const registered = new Map<string, (...args: unknown[]) => Promise<void>>();
const applied: unknown[] = [];
const errors: string[] = [];
const textDocuments: { readonly uri: string; readonly getText: () => string }[] = [];

vi.mock("vscode", () => ({
	commands: {
		registerCommand: (name: string, run: (...args: unknown[]) => Promise<void>) => {
			registered.set(name, run);
			return { dispose() {} };
		},
	},
	l10n: { t: (text: string) => text },
	ProgressLocation: {},
	NotebookCellKind: {},
	window: {
		activeTextEditor: undefined,
		showQuickPick: async (choices: readonly unknown[]) => choices[0],
		showErrorMessage: async (text: string) => errors.push(text),
	},
	workspace: { textDocuments, notebookDocuments: [], applyEdit: async (edit: unknown) => applied.push(edit) },
}));
vi.mock("vscode-languageclient", () => ({}));
const { registerCommands } = await import("../../client/commands.ts");

test("a guide star is written into a plan, but not into one that was not UTF-8", async () => {
	registerCommands({
		sendRequest: async () => ({ choices: [{ label: "Spica", detail: "", edit: {} }], problem: "" }),
		protocol2CodeConverter: { asWorkspaceEdit: async () => ({ entries: () => [["file:///a.lode.yaml", []]] }) },
	} as unknown as BaseLanguageClient);
	const choose = registered.get(COMMANDS.chooseGuideStar);
	textDocuments.push({ uri: "file:///a.lode.yaml", getText: () => "plan:\n  title: Café\n" });
	await choose?.("file:///a.lode.yaml", 1);
	expect([applied.length, errors]).toEqual([1, []]);
	textDocuments.splice(0, 1, { uri: "file:///a.lode.yaml", getText: () => "plan:\n  title: Caf\uFFFD\n" });
	await choose?.("file:///a.lode.yaml", 1);
	expect(applied).toHaveLength(1);
	expect(errors).toEqual([expect.stringMatching(/was not changed: part of it is not UTF-8/)]);
});
