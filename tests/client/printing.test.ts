/** What is printed: a browser on this machine is given the page at once; elsewhere it becomes a file to open. */
import { beforeEach, expect, test, vi } from "vitest";
import type { Uri } from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { COMMANDS } from "../../shared/protocol/commands.ts";
import type { ExportChoice } from "../../shared/protocol/exports.ts";

class FileUri {
	readonly scheme: string;
	readonly path: string;
	constructor(scheme: string, path: string) {
		this.scheme = scheme;
		this.path = path;
	}
	static parse(text: string): FileUri {
		const { protocol, pathname } = new URL(text);
		return new FileUri(protocol.slice(0, -1), pathname);
	}
	static joinPath({ scheme, path }: FileUri, ...parts: readonly string[]): FileUri {
		return FileUri.parse(new URL([path, ...parts].join("/"), `${scheme}://`).href);
	}
	with({ scheme = this.scheme }: { scheme?: string }): FileUri {
		return new FileUri(scheme, this.path);
	}
	toString = (): string => `${this.scheme}://${this.path}`;
}

const registered = new Map<string, () => Promise<void>>();
const env = { uiKind: 1, remoteName: undefined as string | undefined, openExternal: vi.fn(async () => true) };
const written = new Map<string, string>();
const said: unknown[][] = [];
const saves = vi.fn(async ({ defaultUri }: { defaultUri: FileUri }) => defaultUri);
let wanted = "";
let shown: readonly ExportChoice[] = [];

vi.mock("vscode", () => ({
	commands: { registerCommand: (name: string, run: () => Promise<void>) => registered.set(name, run) },
	env,
	l10n: { t: (text: string, ...of: readonly string[]) => text.replace("{0}", String(of[0])) },
	NotebookCellKind: {},
	UIKind: { Desktop: 1, Web: 2 },
	Uri: FileUri,
	window: {
		activeTextEditor: {
			document: { uri: FileUri.parse("file:///plans/ridge.lode.yaml"), languageId: "lodebook" },
			selection: { active: { line: 0 } },
		},
		showQuickPick: async (choices: readonly ExportChoice[]) => {
			shown = choices;
			return choices.find(({ label }) => label === wanted);
		},
		showSaveDialog: saves,
		showInformationMessage: async (...all: unknown[]) => void said.push(all),
	},
	workspace: {
		notebookDocuments: [],
		fs: {
			readFile: async () => new TextEncoder().encode("const page = 1;"),
			writeFile: async (file: Uri, bytes: Uint8Array) =>
				void written.set(String(file), new TextDecoder().decode(bytes)),
		},
	},
}));
vi.mock("vscode-languageclient", () => ({}));
vi.mock("../../client/preview.ts", () => ({ Preview: { documentInFront: () => undefined } }));
const { registerExports } = await import("../../client/exports.ts");

const choices: readonly ExportChoice[] = [
	{ label: "Page", description: "", output: "page", choice: "", extension: "html" },
	{ label: "Print the page", description: "", output: "page", choice: "", extension: "html", prints: true },
	{ label: "Print the card", description: "", output: "card", choice: "", extension: "html", prints: true },
	{
		label: "Nia's",
		description: "Nia / 2",
		output: "card",
		choice: "",
		extension: "html",
		member: 1,
		prints: true,
	},
];
registerExports(
	{
		sendRequest: async (method: string, { pageScript }: { pageScript: string }) =>
			method === "lodebook/exports" ? choices : { text: `<script>${pageScript}</script>` },
	} as unknown as BaseLanguageClient,
	{
		extension: FileUri.parse("file:///extension") as unknown as Uri,
		storage: FileUri.parse("file:///storage") as unknown as Uri,
	},
);
const exported = async (label: string): Promise<void> => {
	wanted = label;
	await registered.get(COMMANDS.exportPlan)?.();
};

beforeEach(() => {
	written.clear();
	said.length = 0;
	saves.mockClear();
	env.openExternal.mockClear();
	Object.assign(env, { uiKind: 1, remoteName: undefined });
});

test("on this machine's desktop it opens in the browser, and nothing is asked", async () => {
	await exported("Print the page");
	const [[file, text] = []] = [...written];
	expect(file).toMatch(/^file:\/\/\/?storage\/print\/ridge-print\.html$/);
	expect(text).toMatch(/const page = 1;;addEventListener\("load", \(\) => print\(\)\);/);
	expect(env.openExternal.mock.calls.map(String)).toEqual([file]);
	expect(saves).not.toHaveBeenCalled();
	expect(shown.map((one) => Reflect.get(one, "detail"))).toContain(
		"a page that asks to be printed as it opens in a browser",
	);
});

test.each([
	["in a browser", { uiKind: 2 }],
	["on another machine", { remoteName: "ssh-remote" }],
])("%s it becomes a file, and what to do with it is said", async (_, where) => {
	Object.assign(env, where);
	await exported("Print the card");
	expect([...written.keys()]).toEqual(["file:///plans/ridge-card-print.html"]);
	expect(said).toEqual([["Written: ridge-card-print.html. Open it in a browser: it asks to be printed."]]);
	await exported("Nia's");
	expect([...written.keys()].at(-1)).toBe("file:///plans/ridge-card-Nia-2-print.html");
	await exported("Page");
	expect([...written].at(-1)).toEqual(["file:///plans/ridge.html", "<script>const page = 1;</script>"]);
	// There is no browser there to open it in.
	expect(said.at(-1)).toEqual(["Written: ridge.html"]);
	expect(env.openExternal).not.toHaveBeenCalled();
});
