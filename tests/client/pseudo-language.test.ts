/**
 * The extension in an editor that speaks a language nobody speaks: every text that the editor is given to translate comes
 * back in ⟦…⟧, the server's answers are in ⟦…⟧ too, and its commands are run through, with one choice and another. English
 * outside of the brackets in what the editor is then given to show is a text that nobody could translate.
 */
import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, test, vi } from "vitest";
import type { BaseLanguageClient } from "vscode-languageclient";
import { COMMANDS } from "../../shared/protocol/commands.ts";

/** What was shown, each with what showed it. */
const shown: (readonly [by: string, text: string])[] = [];
/** Which texts the editor was given to translate. */
const translated = new Set<string>();

const show = (by: string, text: unknown): void => {
	if (typeof text === "string" && text !== "") shown.push([by, text]);
};
/** All texts in something that is shown whole. */
function showAll(by: string, value: unknown): void {
	if (typeof value === "string") show(by, value);
	else if (Array.isArray(value)) for (const one of value) showAll(by, one);
	else if (typeof value === "object" && value !== null)
		for (const [key, inner] of Object.entries(value))
			if (SHOWN.has(key) && key !== "name") showAll(`${by} ${key}`, inner);
			else if (key === "filters") for (const name of Object.keys(inner as object)) show(`${by} filter`, name);
}
const SHOWN = new Set(
	"label detail description title prompt placeHolder placeholder openLabel saveLabel tooltip text name message items validationMessage".split(
		" ",
	),
);

/** The choices of one run: which row, which button, and what is typed. */
let chosen = 0;
let typed = "24 mm";
/** The answers of the server in one run, where they are not the usual ones. */
let others: Readonly<Record<string, unknown>> = {};
let git: object | undefined;
/** How often the user still answers in one run: what asks again for ever is left unanswered in the end. */
let patience = 0;
async function answered<T>(answer: T): Promise<T | undefined> {
	await new Promise((wait) => setTimeout(wait, 1));
	return patience-- > 0 ? answer : undefined;
}
const registered = new Map<string, (...given: unknown[]) => unknown>();

class FakeUri {
	readonly scheme: string;
	readonly path: string;
	constructor(scheme: string, path: string) {
		this.scheme = scheme;
		this.path = path;
	}
	static parse = (text: string) =>
		new FakeUri(/^[\w-]+(?=:)/.exec(text)?.[0] ?? "file", text.replace(/^[\w-]+:(\/\/)?/, ""));
	static file = (path: string) => new FakeUri("file", path);
	static from = ({ scheme, path }: { scheme: string; path: string }) => new FakeUri(scheme, path);
	static joinPath = (uri: FakeUri, ...parts: string[]) => new FakeUri(uri.scheme, [uri.path, ...parts].join("/"));
	get fsPath() {
		return this.path;
	}
	with(change: object) {
		return Object.assign(new FakeUri(this.scheme, this.path), change);
	}
	toString() {
		return `${this.scheme}://${this.path}`;
	}
}

const PLAN = readFileSync("samples/roofless-chapel.lode.yaml", "utf8");
const nothing = () => ({ dispose() {} });
const planUri = new FakeUri("file", "/plan.lode.yaml");
const document = {
	uri: planUri,
	languageId: "lodebook",
	version: 1,
	isDirty: true,
	lineCount: PLAN.split("\n").length,
	getText: () => PLAN,
	save: async () => true,
	positionAt: () => ({}),
};
const editor = {
	document,
	selection: { active: { line: 0, character: 0 } },
	insertSnippet: async () => true,
	revealRange() {},
};

/** Something that is shown: whatever it is given to show is kept, and it is answered by what is chosen. */
function showing(by: string): object {
	const handlers: Record<string, (given?: unknown) => unknown> = {};
	const own: Record<string, unknown> = { value: "", items: [], webview: undefined };
	return new Proxy(own, {
		get(_, key) {
			if (typeof key === "symbol") return undefined;
			if (key === "webview") {
				own.webview ??= webview(by);
				return own.webview;
			}
			if (key === "selectedItems")
				return [(own.items as unknown[])[Math.min(chosen, (own.items as unknown[]).length - 1)]];
			if (key.startsWith("onDid"))
				return (take: (given?: unknown) => unknown) => {
					handlers[key] = take;
					return nothing();
				};
			if (key === "show")
				return () => {
					if (!handlers.onDidAccept) return;
					if (patience-- <= 0) return void setTimeout(() => handlers.onDidHide?.(), 1);
					// What is wrong is told first; then it is typed right.
					own.value = own.value || typed;
					void Promise.resolve(handlers.onDidChangeValue?.(own.value))
						.then(() => handlers.onDidAccept?.())
						.then(() => setTimeout(() => handlers.onDidHide?.(), 20));
				};
			if (key === "dispose" || key === "hide" || key === "reveal") return () => {};
			return own[key];
		},
		set(_, key, value) {
			own[String(key)] = value;
			if (SHOWN.has(String(key))) showAll(`${by} ${String(key)}`, value);
			return true;
		},
	});
}
function webview(by: string): object {
	const hears: ((message: unknown) => void)[] = [];
	webviews.push((message) => hears.forEach((hear) => void hear(message)));
	return {
		cspSource: "csp",
		asWebviewUri: () => "script",
		set html(page: string) {
			show(`${by} page`, page.replace(/<style[\s\S]*?<\/style>|<script[\s\S]*?<\/script>|<[^>]*>/g, " "));
		},
		postMessage: async (message: Record<string, unknown>) => {
			for (const key of ["says", "banner", "title", "text"]) show(`${by} message ${key}`, message[key]);
			return true;
		},
		onDidReceiveMessage: (hear: (message: unknown) => void) => {
			hears.push(hear);
			return nothing();
		},
		options: {},
	};
}
const webviews: ((message: unknown) => void)[] = [];

const message =
	(by: string) =>
	async (text: string, ...buttons: unknown[]) => {
		show(by, text);
		const words = buttons.filter((one): one is string => typeof one === "string");
		for (const word of words) show(`${by} button`, word);
		return answered(words[chosen]);
	};

vi.mock("vscode", () => {
	const api: Record<string, unknown> = {
		l10n: {
			t: (text: string, ...values: unknown[]) => {
				translated.add(text);
				return `⟦${text.replace(/\{(\d+)\}/g, (_, i) => `⟧${values[Number(i)]}⟦`)}⟧`;
			},
		},
		Uri: FakeUri,
		commands: {
			registerCommand: (id: string, run: (...given: unknown[]) => unknown) => {
				registered.set(id, run);
				return nothing();
			},
			executeCommand: async () => undefined,
		},
		window: {
			activeTextEditor: editor,
			activeNotebookEditor: undefined,
			tabGroups: {
				all: [],
				activeTabGroup: { viewColumn: 1, activeTab: undefined },
				onDidChangeTabs: nothing,
				close: async () => true,
			},
			showInformationMessage: message("information"),
			showWarningMessage: message("warning"),
			showErrorMessage: message("error"),
			showQuickPick: async (items: unknown[], options: object) => {
				showAll("quick pick", await items);
				showAll("quick pick", options);
				return answered((await items)[chosen]);
			},
			showInputBox: async (options: object) => {
				showAll("input box", options);
				return answered(typed);
			},
			showOpenDialog: async (options: object) => {
				showAll("open dialogue", options);
				return answered([new FakeUri("file", "/frame.jpg")]);
			},
			showSaveDialog: async (options: object) => {
				showAll("save dialogue", options);
				return answered(new FakeUri("file", "/card.html"));
			},
			createInputBox: () => showing("input box"),
			createQuickPick: () => showing("quick pick"),
			createStatusBarItem: () => showing("status bar"),
			createWebviewPanel: (_type: string, title: string) => {
				show("panel", title);
				return Object.assign(showing("panel"), { title });
			},
			registerWebviewPanelSerializer: nothing,
			showTextDocument: async () => editor,
			showNotebookDocument: async () => ({ revealRange() {} }),
			withProgress: async (options: object, work: (progress: object, token: object) => unknown) => {
				showAll("progress", options);
				return work({ report: (step: object) => showAll("progress", step) }, { onCancellationRequested: nothing });
			},
			onDidChangeActiveTextEditor: nothing,
			onDidChangeActiveNotebookEditor: nothing,
			onDidChangeTextEditorSelection: nothing,
			onDidChangeNotebookEditorSelection: nothing,
		},
		workspace: {
			textDocuments: [document],
			notebookDocuments: [],
			workspaceFolders: undefined,
			getConfiguration: () => ({ get: () => undefined, update: async () => {} }),
			applyEdit: async () => true,
			openTextDocument: async () => document,
			openNotebookDocument: async () => ({ uri: planUri, cellCount: 0 }),
			onDidChangeTextDocument: nothing,
			onDidChangeNotebookDocument: nothing,
			onDidOpenNotebookDocument: nothing,
			onDidCloseNotebookDocument: nothing,
			registerTextDocumentContentProvider: nothing,
			fs: {
				readFile: async () => new TextEncoder().encode(PLAN),
				writeFile: async () => {},
				stat: async () => ({ size: fileSize }),
			},
		},
		languages: {
			getDiagnostics: () => diagnostics,
			onDidChangeDiagnostics: nothing,
			registerDocumentDropEditProvider: (_: object, provider: typeof dropping) => {
				dropping = provider;
				return nothing();
			},
		},
		notebooks: {
			createRendererMessaging: () => ({ onDidReceiveMessage: nothing, postMessage: async () => true }),
			createNotebookController: (_id: string, _type: string, label: string) => {
				show("controller", label);
				const controller = showing("controller") as Record<string, unknown>;
				return controller;
			},
		},
		extensions: {
			getExtension: () =>
				git && { isActive: true, exports: { enabled: true, getAPI: () => git, onDidChangeEnablement: nothing } },
		},
		env: { uiKind: 1, remoteName: undefined, openExternal: async () => true },
		DiagnosticSeverity: { Error: 0, Warning: 1 },
		QuickPickItemKind: { Separator: -1 },
		QuickInputButtons: { Back: {} },
		UIKind: { Desktop: 1, Web: 2 },
	};
	const enums = new Proxy({}, { get: () => 1 });
	for (const name of [
		"ProgressLocation",
		"ViewColumn",
		"StatusBarAlignment",
		"ConfigurationTarget",
		"NotebookCellKind",
		"NotebookControllerAffinity",
		"NotebookEditorRevealType",
		"TextEditorRevealType",
		"TextEditorSelectionChangeKind",
		"FileType",
	])
		api[name] = enums;
	for (const name of [
		"ThemeColor",
		"Range",
		"Position",
		"Selection",
		"WorkspaceEdit",
		"NotebookRange",
		"NotebookEdit",
		"NotebookCellData",
		"NotebookData",
		"NotebookCellOutput",
		"NotebookCellOutputItem",
		"SnippetString",
		"RelativePattern",
		"CancellationError",
		"DocumentDropEdit",
		"TabInputText",
		"TabInputNotebook",
		"TabInputNotebookDiff",
		"TabInputWebview",
		"EventEmitter",
	])
		api[name] = class {
			static replaceCells() {}
			static insertCells() {}
			static updateNotebookMetadata() {}
			event = nothing;
			fire() {}
			replace() {}
			set() {}
			dispose() {}
		};
	return api;
});
vi.mock("vscode-languageclient", () => ({
	State: { Stopped: 1, Running: 2 },
	LSPErrorCodes: {},
	ResponseError: class extends Error {},
}));

let fileSize = 1000;
let diagnostics: readonly { readonly source: string; readonly severity: number }[] = [];
let dropping: {
	provideDocumentDropEdits(...given: unknown[]): Promise<unknown>;
} = { provideDocumentDropEdits: async () => undefined };

/** What the server answers: in its own words, which another test looks at. */
const ANSWERS: Readonly<Record<string, unknown>> = {
	"lodebook/marks": { choices: [{ label: "⟦star⟧", detail: "⟦x⟧", edit: {} }], problem: "" },
	"lodebook/nights": {
		choices: [{ label: "⟦night⟧", date: "2027-06-05" }],
		framings: [{ label: "⟦framed⟧", framing: "a" }],
		present: "⟦now⟧",
		problem: "",
	},
	"lodebook/yearOfNights": { html: "⟦year⟧", problem: "" },
	"lodebook/writeNight": { edit: {}, problem: "" },
	"lodebook/writeEvening": { edit: null, problem: "⟦not⟧" },
	"lodebook/compare": { markdown: "⟦same⟧" },
	"lodebook/exports": ["card", "page"].map((output) => ({
		label: `⟦${output}⟧`,
		description: "⟦d⟧",
		output,
		choice: "",
		extension: "html",
		prints: output === "page",
	})),
	"lodebook/export": { text: "⟦page⟧" },
	"lodebook/measure": { page: "⟦measured⟧", entry: {}, periodic: {}, lens: {} },
	"lodebook/writeMeasured": { edit: {}, problem: "" },
	"lodebook/surveyGround": { found: {}, doubts: ["⟦doubt⟧"], notes: ["⟦note⟧"] },
	"lodebook/writeGround": { edit: {}, problem: "" },
	"lodebook/checkValue": null,
	"lodebook/words": [],
	"lodebook/place": {
		latitude: "1 N",
		longitude: "1 E",
		told: "⟦there⟧",
		nights: [{ date: "2027-06-05", about: "⟦good⟧" }],
	},
	"lodebook/kits": [{ from: "kits/a.lode.yaml", lens: "⟦wide⟧", kit: { "focal-length": "24 mm" } }],
	"lodebook/newPlan": { text: PLAN, file: "night" },
	"lodebook/planToFill": "plan:",
	"lodebook/cellKinds": [{ label: "⟦lens⟧", text: "lens:\n" }],
	"lodebook/page": { html: "⟦page⟧", instead: "" },
	"lodebook/pageStyle": "",
	"lodebook/tracePage": { html: "⟦trace⟧", style: "" },
	"lodebook/tracePhoto": { photo: {} },
	"lodebook/writeTrace": { edit: {}, problem: "" },
};
const client = {
	state: 2,
	start: async () => {},
	stop: async () => {},
	error() {},
	sendNotification: async () => {},
	onRequest: nothing,
	onNotification: nothing,
	onDidChangeState: nothing,
	sendRequest: async (method: string) => {
		const answer = Object.hasOwn(others, method) ? others[method] : ANSWERS[method];
		if (answer instanceof Error) throw answer;
		return answer;
	},
	code2ProtocolConverter: { asUri: String },
	protocol2CodeConverter: {
		asUri: FakeUri.parse,
		asPosition: () => ({}),
		asLocation: () => ({}),
		asWorkspaceEdit: async () => ({ entries: () => [] }),
	},
} as unknown as BaseLanguageClient;

/** Runs a command to its end, or to where it waits for something that does not come. */
async function run(id: string, ...given: unknown[]): Promise<void> {
	const command = registered.get(id);
	if (!command) throw new Error(`no command ${id}`);
	patience = 12;
	await Promise.race([command(...given), new Promise((wait) => setTimeout(wait, 400))]);
}

/** What stands in the brackets, what is a plan's own, and what is in no language. */
const NO_LANGUAGE =
	/\$\([\w-]+\)|\*\.[\w.]+|[\w./-]+\.(?:lode\.yaml|ya?ml|html|jpe?g|png|hgt|tiff?)|\b\d+(?:\.\d+)? ?(?:mm|MB)\b|36 x 24 mm|47°06'28\.1"N 8°40'55\.2"E|6000 x 4000|f\/[\d.]+/gi;
function outside(text: string): string {
	for (let now = text; ; ) {
		const next = now.replace(/⟦[^⟦⟧]*⟧/g, " ");
		if (next === now) return now.replace(NO_LANGUAGE, " ");
		now = next;
	}
}

describe("in a language that nobody speaks", () => {
	beforeAll(async () => {
		git = {
			repositories: [{}],
			getRepository: () => ({ state: { HEAD: {}, indexChanges: [] }, show: async () => PLAN }),
			onDidOpenRepository: nothing,
			onDidCloseRepository: nothing,
		};
		const extension = new FakeUri("file", "/extension") as never;
		const start = () => ({ client, end() {} });
		const [
			{ registerCommands },
			{ registerComparison },
			{ registerDropping },
			{ registerExports },
			{ registerGround },
		] = await Promise.all([
			import("../../client/commands.ts"),
			import("../../client/comparison.ts"),
			import("../../client/dropping.ts"),
			import("../../client/exports.ts"),
			import("../../client/ground.ts"),
		]);
		const [
			{ registerMeasuring },
			{ registerNewPlan },
			{ registerNotebookCommands },
			{ Outputs },
			{ watchFaces },
			{ registerPreviews },
			{ registerTracing },
			{ showVerdict },
		] = await Promise.all([
			import("../../client/measuring.ts"),
			import("../../client/new-plan.ts"),
			import("../../client/notebook/commands.ts"),
			import("../../client/notebook/outputs.ts"),
			import("../../client/notebook/two-faces.ts"),
			import("../../client/previews.ts"),
			import("../../client/tracing.ts"),
			import("../../client/verdict.ts"),
		]);
		registerCommands(client);
		registerComparison(client);
		registerExports(client, { extension, storage: extension });
		registerNewPlan(client, extension);
		registerNotebookCommands(client);
		new Outputs(client, "unpublished.lodebook");
		watchFaces(client);
		const measuring = registerMeasuring(client, start);
		const tracing = registerTracing(client, extension);
		registerDropping(measuring, tracing);
		registerGround(client, start, true);
		registerPreviews({ client, extension, remembered: { get: () => undefined, update: async () => {} } as never });
		for (const found of [[], [0], [0, 0], [1], [1, 1]]) {
			diagnostics = found.map((severity) => ({ source: "lodebook", severity }));
			showVerdict();
		}
		for (chosen = 0; chosen < 3; chosen++)
			for (const id of Object.values(COMMANDS)) {
				typed = id === COMMANDS.newPlan ? (["⟦Chapel⟧", "32 S 54 W", "24 mm"][chosen] ?? "") : "24 mm";
				await run(id);
			}
		chosen = 0;
		// What goes wrong, one thing after the other.
		const failing: readonly (readonly [id: string, answers: typeof others])[] = [
			[COMMANDS.chooseGuideStar, { "lodebook/marks": { choices: [], problem: "⟦none⟧" } }],
			[COMMANDS.chooseNight, { "lodebook/nights": { choices: [], framings: [], problem: "" } }],
			[COMMANDS.exportPlan, { "lodebook/export": { problem: "⟦why⟧" } }],
			[COMMANDS.measureFrames, { "lodebook/measure": { problem: "⟦why⟧" } }],
			[COMMANDS.measureFrames, { "lodebook/measure": { problem: "⟦why⟧", timeOf: 0 } }],
			[COMMANDS.measureFrames, { "lodebook/measure": { page: "⟦one⟧" } }],
			[COMMANDS.measureFrames, { "lodebook/measure": null }],
			[COMMANDS.surveyGround, { "lodebook/surveyGround": { problem: "⟦why⟧" } }],
			[COMMANDS.newPlan, { "lodebook/place": null }],
			[COMMANDS.newPlan, { "lodebook/kits": [] }],
			[COMMANDS.openPreview, { "lodebook/pageStyle": new Error("⟦broken⟧"), "lodebook/page": new Error("⟦broken⟧") }],
			[COMMANDS.showYear, { "lodebook/yearOfNights": new Error("⟦broken⟧") }],
		];
		for (const [id, answers] of failing) {
			others = answers;
			await run(id);
		}
		others = {};
		for (const say of webviews)
			for (const heard of ["ready", "choose", "write", "undecoded", "nights", "trace"])
				say({ type: heard, trace: {}, stamp: 1 });
		fileSize = 1e12;
		await run(COMMANDS.surveyGround);
		for (const say of webviews) say({ type: "choose" });
		git = { repositories: [], getRepository: () => null, onDidOpenRepository: nothing, onDidCloseRepository: nothing };
		await run(COMMANDS.compareWithHead);
		const photo = { asFile: () => ({ name: "frame.jpg", uri: new FakeUri("file", "/frame.jpg") }) };
		const edit = await dropping.provideDocumentDropEdits(document, { line: 0 }, new Map([["files", photo]]), {
			isCancellationRequested: false,
		});
		showAll("drop", edit);
		await new Promise((wait) => setTimeout(wait, 300));
	});

	test("what the extension gives the editor to show is all translated", () => {
		const english = shown.filter(([, text]) => /\p{L}{3}/u.test(outside(text)));
		expect(english).toEqual([]);
	});

	test("most of its texts were shown, in every kind of place", () => {
		const bundle = Object.keys(JSON.parse(readFileSync("client/l10n/bundle.l10n.json", "utf8")));
		const unseen = bundle.filter((text) => !translated.has(text));
		expect(unseen.length, unseen.join("\n")).toBeLessThan(bundle.length / 5);
		const places = new Set(shown.map(([by]) => by.split(" ")[0]));
		expect([...places].sort()).toEqual(
			expect.arrayContaining([
				"controller",
				"drop",
				"error",
				"information",
				"input",
				"open",
				"panel",
				"progress",
				"quick",
				"save",
				"status",
				"warning",
			]),
		);
	});

	test("English that is not given to the editor would be seen", () => {
		expect(outside("⟦Preview: ⟧plan.lode.yaml⟦⟧").trim()).toBe("");
		expect(outside("⟦Preview: ⟧plan of the evening⟦⟧")).toContain("plan of the evening");
	});
});
