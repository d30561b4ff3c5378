import { describe, expect, test, vi } from "vitest";
import type { Uri, WebviewPanel } from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import type { ToPage } from "../../shared/protocol/page.ts";

const nothing = () => ({ dispose() {} });
vi.mock("vscode", () => ({
	l10n: { t: (text: string, ...values: string[]) => values.reduce((all, one, i) => all.replace(`{${i}}`, one), text) },
	Uri: { joinPath: () => "uri" },
	window: {
		onDidChangeActiveTextEditor: nothing,
		onDidChangeActiveNotebookEditor: nothing,
		onDidChangeTextEditorSelection: nothing,
	},
	workspace: { notebookDocuments: [], onDidChangeTextDocument: nothing, onDidChangeNotebookDocument: nothing },
}));
vi.mock("vscode-languageclient", () => ({ State: { Stopped: 1, Running: 2 } }));
const { Preview } = await import("../../client/preview.ts");

/** A preview whose server answers each message as told: with a value, or with an error. */
function opened(answers: Record<string, unknown>) {
	const posted: ToPage[] = [];
	const logged: string[] = [];
	let [ready, close, state] = [(_: object) => {}, () => {}, (_: object) => {}];
	const webview = {
		html: "",
		cspSource: "csp",
		asWebviewUri: () => "script",
		postMessage: async (message: ToPage) => posted.push(message),
		onDidReceiveMessage: (take: typeof ready) => {
			ready = take;
			return nothing();
		},
	};
	const panel = {
		webview,
		title: "",
		onDidDispose: (take: typeof close) => {
			close = take;
			return nothing();
		},
	};
	const client = {
		sendRequest: async (method: string) => {
			if (answers[method] instanceof Error) throw answers[method];
			return answers[method];
		},
		onNotification: nothing,
		onDidChangeState: (take: typeof state) => {
			state = take;
			return nothing();
		},
		error: (message: string) => logged.push(message),
		code2ProtocolConverter: { asUri: String },
	};
	const uri = { path: "/plans/a.lode.yaml", toString: () => "file:///plans/a.lode.yaml" };
	new Preview(
		client as unknown as BaseLanguageClient,
		"extension" as unknown as Uri,
		uri as unknown as Uri,
		panel as unknown as WebviewPanel,
	);
	return {
		answers,
		webview,
		posted,
		logged,
		ready: () => ready({ type: "ready" }),
		restarted: () => state({ newState: 2 }),
		close: () => close(),
	};
}

describe("the preview", () => {
	test("shows the server's page", async () => {
		const preview = opened({ "lodebook/pageStyle": "p { }", "lodebook/page": { html: "<h1>A</h1>", stale: false } });
		await expect.poll(() => preview.webview.html).toContain("<style nonce=");
		expect(preview.webview.html).toContain('role="status" hidden></p>');
		preview.ready();
		await expect.poll(() => preview.posted).toEqual([{ type: "page", html: "<h1>A</h1>", stale: "" }]);
		expect(preview.logged).toEqual([]);
	});

	test("a page that cannot be drawn leaves the last one, under a banner that says why, and is logged; then a page takes it away", async () => {
		const preview = opened({ "lodebook/pageStyle": "p { }", "lodebook/page": new Error("no server") });
		preview.ready();
		const problem = "The page cannot be drawn: no server";
		await expect.poll(() => preview.posted).toEqual([{ type: "page", html: "", stale: problem }]);
		expect(preview.logged).toEqual([problem]);
		preview.answers["lodebook/page"] = { html: "<h1>A</h1>", stale: false };
		preview.restarted();
		await expect.poll(() => preview.posted[1]).toEqual({ type: "page", html: "<h1>A</h1>", stale: "" });
	});

	test("without a style it says so in the banner, as text, and is drawn once the server is there", async () => {
		const preview = opened({ "lodebook/pageStyle": new Error("<b>no & server"), "lodebook/page": null });
		await expect
			.poll(() => preview.webview.html)
			.toContain('role="status">The page cannot be drawn: &lt;b>no &amp; server</p>');
		expect(preview.logged).toEqual(["The page cannot be drawn: <b>no & server"]);
		preview.answers["lodebook/pageStyle"] = "p { }";
		preview.restarted();
		await expect.poll(() => preview.webview.html).toContain(">p { }</style>");
	});

	test("once it is closed nothing is shown in it", async () => {
		const preview = opened({ "lodebook/pageStyle": "p { }", "lodebook/page": new Error("no server") });
		preview.ready();
		preview.close();
		await expect.poll(() => preview.logged.length).toBeGreaterThan(0);
		expect(preview.posted).toEqual([]);
	});
});
