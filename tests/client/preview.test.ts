import { beforeEach, describe, expect, test, vi } from "vitest";
import type { Memento, Uri, WebviewPanel } from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import type { FromPage, ToPage } from "../../shared/protocol/page.ts";

const nothing = () => ({ dispose() {} });
vi.mock("vscode", () => ({
	l10n: { t: (text: string, ...values: string[]) => values.reduce((all, one, i) => all.replace(`{${i}}`, one), text) },
	Uri: { joinPath: () => "uri" },
	window: {
		onDidChangeActiveTextEditor: (take: (editor: object) => void) => {
			turnTo = (path) => take({ document: { languageId: "lodebook", uri: uriOf(path) } });
			return nothing();
		},
		onDidChangeActiveNotebookEditor: nothing,
		onDidChangeTextEditorSelection: nothing,
		onDidChangeNotebookEditorSelection: nothing,
		showWarningMessage: (text: string) => void warned.push(text),
	},
	workspace: {
		notebookDocuments: [],
		textDocuments: documents,
		applyEdit: async () => {
			const [document] = documents;
			if (document) document.version++;
			return true;
		},
		openTextDocument: async (uri: { path: string }) => {
			openedFiles.push(uri.path);
			if (uri.path.includes("gone")) throw new Error("no such file");
		},
		onDidChangeTextDocument: nothing,
		onDidChangeNotebookDocument: nothing,
	},
}));
vi.mock("vscode-languageclient", () => ({ State: { Stopped: 1, Running: 2 } }));

/** Plans that are open, as the editor has them. */
const documents: { uri: object; version: number; getText: () => string; notebook?: undefined }[] = [];
const warned: string[] = [];

/** Plans that the preview has had opened, and the editor in front turned to another. */
const openedFiles: string[] = [];
let turnTo = (_: string): void => {};
const uriOf = (path: string) => ({ path, toString: () => `file://${path}` });
const { Preview } = await import("../../client/preview.ts");

/** A preview whose server answers each message as told: with a value, or with an error. */
function opened(answers: Record<string, unknown>, locked = false) {
	const kept = new Map<string, unknown>();
	const posted: ToPage[] = [];
	const logged: string[] = [];
	const asked: (readonly [method: string, params: object])[] = [];
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
		sendRequest: async (method: string, params: object) => {
			if (method.startsWith("lodebook/w") || method.endsWith("Nights")) asked.push([method, params]);
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
		protocol2CodeConverter: { asWorkspaceEdit: async () => new Map([["file:///plans/a.lode.yaml", []]]) },
	};
	const preview = new Preview(
		{
			client: client as unknown as BaseLanguageClient,
			extension: "extension" as unknown as Uri,
			remembered: {
				get: (key: string) => kept.get(key),
				update: async (key: string, value: unknown) => void kept.set(key, value),
			} as Pick<Memento, "get" | "update">,
		},
		uriOf("/plans/a.lode.yaml") as unknown as Uri,
		panel as unknown as WebviewPanel,
		locked,
	);
	return {
		answers,
		preview,
		panel,
		kept,
		webview,
		posted,
		logged,
		asked,
		ready: () => ready({ type: "ready" }),
		says: (message: FromPage) => ready(message),
		restarted: () => state({ newState: 2 }),
		close: () => close(),
	};
}

const STYLED = { "lodebook/pageStyle": "p { }" };
const good = { html: "<h1>A</h1>", instead: "" };
const page = (changes: object): ToPage => ({
	type: "page",
	plan: "file:///plans/a.lode.yaml",
	title: "Preview: a.lode.yaml",
	locked: false,
	html: "",
	instead: "",
	banner: "",
	...changes,
});

describe("the preview", () => {
	test("shows the server's page, with a title", async () => {
		const preview = opened({ ...STYLED, "lodebook/page": good });
		await expect.poll(() => preview.webview.html).toContain("<style nonce=");
		expect(preview.webview.html).toContain("<title>Preview: a.lode.yaml</title>");
		expect(preview.webview.html).toContain('role="status" hidden></p>');
		preview.ready();
		await expect.poll(() => preview.posted).toEqual([page({ html: "<h1>A</h1>" })]);
		expect(preview.logged).toEqual([]);
	});

	test("a plan that cannot be drawn now: its findings, and the last page of this plan under a banner with its time", async () => {
		const preview = opened({ ...STYLED, "lodebook/page": good });
		preview.ready();
		await expect.poll(() => preview.posted.length).toBe(1);
		preview.answers["lodebook/page"] = { html: "", instead: "<p>No date.</p>" };
		preview.restarted();
		await expect.poll(() => preview.posted[1]).toMatchObject({ html: "<h1>A</h1>", instead: "<p>No date.</p>" });
		expect((preview.posted[1] as { banner: string }).banner).toMatch(
			/^This plan cannot be drawn as it is now\. The page below the list is from .*\d+:\d\d.*\.$/,
		);
	});

	test("another plan: the page is taken away at once; of one that cannot be drawn there is none, and no banner", async () => {
		const preview = opened({ ...STYLED, "lodebook/page": good });
		preview.ready();
		await expect.poll(() => preview.posted.length).toBe(1);
		preview.answers["lodebook/page"] = { html: "", instead: "<p>No site.</p>" };
		turnTo("/plans/b.lode.yaml");
		const b = { plan: "file:///plans/b.lode.yaml", title: "Preview: b.lode.yaml" };
		expect(preview.posted[1]).toEqual(page(b));
		await expect.poll(() => preview.posted[2]).toEqual(page({ ...b, instead: "<p>No site.</p>" }));
	});

	test("a locked one keeps its plan, and says so", async () => {
		const preview = opened({ ...STYLED, "lodebook/page": good }, true);
		preview.ready();
		await expect.poll(() => preview.posted.length).toBe(1);
		turnTo("/plans/b.lode.yaml");
		expect(preview.posted).toEqual([page({ html: "<h1>A</h1>", locked: true, title: "Preview, locked: a.lode.yaml" })]);
		preview.preview.toggleLock();
		await expect.poll(() => preview.posted[1]).toEqual(page({ html: "<h1>A</h1>" }));
		turnTo("/plans/b.lode.yaml");
		await expect.poll(() => preview.panel.title).toBe("Preview: b.lode.yaml");
	});

	test("a plan that no editor shows is opened; one that is gone says why", async () => {
		openedFiles.length = 0;
		const preview = opened({ ...STYLED, "lodebook/page": good });
		preview.ready();
		await expect.poll(() => openedFiles).toEqual(["/plans/a.lode.yaml"]);
		turnTo("/plans/gone.lode.yaml");
		await expect
			.poll(() => preview.posted.at(-1))
			.toMatchObject({
				html: "",
				banner: "The page cannot be drawn: no such file",
			});
	});

	test("dim red is remembered for the next preview", async () => {
		const preview = opened({ ...STYLED, "lodebook/page": good });
		await expect.poll(() => preview.webview.html).toContain('<html lang="en"><head>');
		preview.says({ type: "dim", dim: true });
		preview.answers["lodebook/pageStyle"] = "p { }";
		expect(preview.kept.get("preview.dim")).toBe(true);
	});

	test("a page that cannot be drawn leaves the last one, under a banner that says why, and is logged; then a page takes it away", async () => {
		const preview = opened({ ...STYLED, "lodebook/page": new Error("no server") });
		preview.ready();
		const problem = "The page cannot be drawn: no server";
		await expect.poll(() => preview.posted).toEqual([page({ banner: problem })]);
		expect(preview.logged).toEqual([problem]);
		preview.answers["lodebook/page"] = good;
		preview.restarted();
		await expect.poll(() => preview.posted[1]).toEqual(page({ html: "<h1>A</h1>" }));
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
		const preview = opened({ ...STYLED, "lodebook/page": new Error("no server") });
		preview.ready();
		preview.close();
		await expect.poll(() => preview.logged.length).toBeGreaterThan(0);
		expect(preview.posted).toEqual([]);
	});
});

describe("the nights of a year in the preview", () => {
	const year = { html: "<svg></svg>", problem: "" };
	const answers = {
		...STYLED,
		"lodebook/page": good,
		"lodebook/yearOfNights": year,
		"lodebook/writeNight": { edit: {}, problem: "" },
	};
	const nightsOf = ({ posted }: { posted: ToPage[] }) => posted.filter(({ type }) => type === "nights");
	const current = { type: "nights", html: "<svg></svg>", says: "", isCurrent: true };

	beforeEach(() => {
		warned.length = 0;
		documents.splice(0, documents.length, { uri: uriOf("/plans/a.lode.yaml"), version: 7, getText: () => "" });
	});

	test("are computed when they are asked for, and not before; the chosen one is written, and they are computed anew", async () => {
		const preview = opened(answers);
		preview.ready();
		await expect.poll(() => preview.posted.length).toBe(1);
		expect(preview.asked).toEqual([]);
		preview.says({ type: "nights" });
		await expect.poll(() => nightsOf(preview).at(-1)).toEqual(current);
		expect(preview.asked).toEqual([
			["lodebook/yearOfNights", { uri: "file:///plans/a.lode.yaml", from: expect.stringMatching(/^\d{4}-\d\d-\d\d$/) }],
		]);
		preview.says({ type: "night", date: "2027-06-05" });
		await expect.poll(() => preview.asked.length).toBe(3);
		expect(preview.asked[1]).toEqual(["lodebook/writeNight", { uri: "file:///plans/a.lode.yaml", date: "2027-06-05" }]);
		await expect.poll(() => nightsOf(preview).at(-1)).toEqual(current);
		expect(documents[0]?.version).toBe(8);
		expect(warned).toEqual([]);
	});

	test("of a plan that has changed since are said to be so, and none is written", async () => {
		const preview = opened(answers);
		preview.says({ type: "nights" });
		await expect.poll(() => nightsOf(preview).at(-1)).toEqual(current);
		(documents[0] as { version: number }).version = 9;
		preview.says({ type: "night", date: "2027-06-05" });
		await expect.poll(() => warned).toEqual(["The plan has changed in the meantime. Choose again."]);
		preview.restarted();
		await expect
			.poll(() => nightsOf(preview).at(-1))
			.toEqual({
				...current,
				says: "The plan has changed since its nights were compared.",
				isCurrent: false,
			});
		preview.says({ type: "night", date: "2027-06-05" });
		await expect.poll(() => warned.length).toBe(2);
		expect(preview.asked.map(([method]) => method)).toEqual(["lodebook/yearOfNights"]);
	});

	test("an edit that comes while the night is looked up keeps it from being written; a refusal is said", async () => {
		const preview = opened(answers);
		preview.says({ type: "nights" });
		await expect.poll(() => nightsOf(preview).at(-1)).toEqual(current);
		preview.answers["lodebook/writeNight"] = { edit: null, problem: "Nothing was written: no." };
		preview.says({ type: "night", date: "2027-06-05" });
		await expect.poll(() => warned).toEqual(["Nothing was written: no."]);
		const write = new Promise((resolve) => setTimeout(resolve, 20)).then(() => {
			(documents[0] as { version: number }).version = 8;
			return { edit: {}, problem: "" };
		});
		preview.answers["lodebook/writeNight"] = write;
		preview.says({ type: "night", date: "2027-06-05" });
		await expect.poll(() => warned.at(-1)).toBe("The plan has changed in the meantime. Choose again.");
		expect(documents[0]?.version).toBe(8);
	});

	test("are of before where what the plan takes from others has changed, and not where only a file was saved", async () => {
		const preview = opened(answers);
		preview.ready();
		await expect.poll(() => preview.posted.length).toBe(1);
		preview.says({ type: "nights" });
		await expect.poll(() => nightsOf(preview).at(-1)).toEqual(current);
		preview.restarted();
		await expect.poll(() => preview.posted.filter(({ type }) => type === "page").length).toBe(2);
		expect(nightsOf(preview).at(-1)).toEqual(current);
		preview.answers["lodebook/page"] = { html: "<h1>Another site</h1>", instead: "" };
		preview.restarted();
		await expect.poll(() => nightsOf(preview).at(-1)).toMatchObject({ isCurrent: false });
	});

	test("of another plan are taken away at once; what comes too late is not shown", async () => {
		const preview = opened(answers);
		preview.says({ type: "nights" });
		await expect.poll(() => nightsOf(preview).at(-1)).toEqual(current);
		preview.answers["lodebook/yearOfNights"] = new Promise((resolve) => setTimeout(() => resolve(year), 20));
		preview.says({ type: "nights" });
		await expect.poll(() => nightsOf(preview).at(-1)).toMatchObject({ says: "Comparing the nights of a year…" });
		turnTo("/plans/b.lode.yaml");
		expect(nightsOf(preview).at(-1)).toEqual({ type: "nights", html: "", says: "", isCurrent: false });
		await new Promise((resolve) => setTimeout(resolve, 60));
		expect(nightsOf(preview).at(-1)).toEqual({ type: "nights", html: "", says: "", isCurrent: false });
	});

	test("that cannot be compared say why", async () => {
		const preview = opened({ ...answers, "lodebook/yearOfNights": { html: "", problem: "No site." } });
		preview.says({ type: "nights" });
		await expect.poll(() => nightsOf(preview).at(-1)).toMatchObject({ html: "", says: "No site." });
		preview.answers["lodebook/yearOfNights"] = new Error("no server");
		preview.says({ type: "nights" });
		await expect
			.poll(() => nightsOf(preview).at(-1))
			.toMatchObject({ html: "", says: expect.stringContaining("no server") });
	});
});
