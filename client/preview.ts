/** The preview beside the text: a webview that shows the server's page and is patched as the plan changes. */
import {
	type Disposable,
	l10n,
	NotebookEditorRevealType,
	NotebookRange,
	Position,
	Range,
	Selection,
	TextEditorRevealType,
	TextEditorSelectionChangeKind,
	Uri,
	ViewColumn,
	type WebviewPanel,
	window,
	workspace,
} from "vscode";
import { type BaseLanguageClient, State } from "vscode-languageclient";
import { COMMANDS } from "../shared/protocol/commands.ts";
import { LANGUAGE } from "../shared/protocol/language.ts";
import { ask, hear } from "../shared/protocol/message.ts";
import { type FromPage, PAGE, PAGE_STYLE, REFRESH, type ToPage } from "../shared/protocol/page.ts";
import { cellAtLine, cellOfDocument, isPlanNotebook, openNotebook, textOfOpen } from "./notebook/plan-notebook.ts";

export class Preview {
	static readonly viewType = "lodebook.preview";
	readonly #client: BaseLanguageClient;
	readonly #extension: Uri;
	readonly #panel: WebviewPanel;
	readonly #disposables: Disposable[] = [];
	#document: Uri;
	#requested = 0;
	#closed = false;
	/** The page has its style; without it the page is drawn anew once the server answers. */
	#styled = false;
	/** The reader went to a line by a click on the page: the page must not jump for it. */
	#revealing = false;

	constructor(client: BaseLanguageClient, extension: Uri, document: Uri, panel: WebviewPanel) {
		this.#client = client;
		this.#extension = extension;
		this.#document = document;
		this.#panel = panel;
		panel.webview.options = { enableScripts: true, localResourceRoots: [Uri.joinPath(extension, "dist")] };
		panel.iconPath = {
			light: Uri.joinPath(extension, "client/media/plan-light.svg"),
			dark: Uri.joinPath(extension, "client/media/plan-dark.svg"),
		};
		this.#disposables.push(
			panel.webview.onDidReceiveMessage((message: FromPage) => {
				if (message.type === "ready") void this.#show();
				if (message.type === "reveal") void this.#reveal(message.line);
			}),
			workspace.onDidChangeTextDocument(({ document: changed }) => {
				if (fileOf(changed.uri).toString() === this.#document.toString()) void this.#show();
			}),
			workspace.onDidChangeNotebookDocument(({ notebook, contentChanges }) => {
				if (contentChanges.length > 0 && notebook.uri.toString() === this.#document.toString()) void this.#show();
			}),
			hear(client, REFRESH, () => void this.#show()),
			// A server that was started again may answer what the one before could not.
			client.onDidChangeState(({ newState }) => {
				if (newState === State.Running) void (this.#styled ? this.#show() : this.#draw());
			}),
			window.onDidChangeActiveTextEditor((editor) => {
				if (editor?.document.languageId === LANGUAGE) this.#turnTo(fileOf(editor.document.uri));
			}),
			window.onDidChangeActiveNotebookEditor((editor) => {
				if (editor && isPlanNotebook(editor.notebook)) this.#turnTo(editor.notebook.uri);
			}),
			window.onDidChangeTextEditorSelection(({ textEditor, selections, kind }) => {
				const follow = workspace.getConfiguration(LANGUAGE).get("preview.followCursor");
				if (follow === "never" || (follow === "click" && kind !== TextEditorSelectionChangeKind.Mouse)) return;
				const { uri } = textEditor.document;
				if (this.#revealing || fileOf(uri).toString() !== this.#document.toString()) return;
				const inCell = cellOfDocument(uri);
				const before = inCell ? (textOfOpen(inCell.notebook).lines[inCell.cell.index] ?? 0) : 0;
				void this.#post({ type: "cursor", line: before + (selections[0]?.active.line ?? 0) + 1 });
			}),
			panel.onDidDispose(() => {
				this.#closed = true;
				for (const one of this.#disposables.splice(0)) one.dispose();
			}),
		);
		void this.#draw();
	}

	/** The empty page with its style and script; the content comes as a message once the script is there. */
	async #draw(): Promise<void> {
		const { webview } = this.#panel;
		let style = "";
		let problem = "";
		try {
			style = await ask(this.#client, PAGE_STYLE);
			this.#styled = true;
		} catch (error) {
			problem = this.#failed(error);
		}
		if (this.#closed) return;
		const script = webview.asWebviewUri(Uri.joinPath(this.#extension, "dist", "page.js"));
		const nonce = Array.from({ length: 32 }, () => Math.floor(Math.random() * 36).toString(36)).join("");
		const policy = `default-src 'none'; style-src 'nonce-${nonce}'; script-src ${webview.cspSource}; base-uri 'none'; form-action 'none'`;
		webview.html = `<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="${policy}"><meta name="viewport" content="width=device-width, initial-scale=1"><style nonce="${nonce}">${style}</style></head><body><p id="banner" class="banner" role="status"${problem === "" ? " hidden" : ""}>${asHtml(problem)}</p><main id="page"></main><script src="${script.toString()}"></script></body></html>`;
	}

	#turnTo(uri: Uri): void {
		if (uri.toString() === this.#document.toString()) return;
		this.#document = uri;
		void this.#show();
	}

	async #show(): Promise<void> {
		const request = ++this.#requested;
		const current = (): boolean => request === this.#requested && !this.#closed;
		// Of a notebook any cell will do for the whole.
		const uri = openNotebook(this.#document)?.getCells()[0]?.document.uri ?? this.#document;
		try {
			const answer = await ask(this.#client, PAGE, { uri: this.#client.code2ProtocolConverter.asUri(uri) });
			if (!answer || !current()) return;
			this.#panel.title = l10n.t("Preview: {0}", this.#document.path.split("/").pop() ?? "");
			await this.#post({
				type: "page",
				html: answer.html,
				stale: answer.stale
					? l10n.t("The plan cannot be evaluated at the moment. This is the last page that could be.")
					: "",
			});
		} catch (error) {
			const problem = this.#failed(error);
			if (current()) await this.#post({ type: "page", html: "", stale: problem });
		}
	}

	/** Logs why the page could not be drawn, and says it in the words of its banner. */
	#failed(error: unknown): string {
		const problem = l10n.t("The page cannot be drawn: {0}", error instanceof Error ? error.message : String(error));
		this.#client.error(problem, error, false);
		return problem;
	}

	#post(message: ToPage): Thenable<boolean> {
		return this.#panel.webview.postMessage(message);
	}

	async #reveal(line: number): Promise<void> {
		this.#revealing = true;
		setTimeout(() => {
			this.#revealing = false;
		}, 300);
		const notebook = openNotebook(this.#document);
		if (notebook) {
			const cell = cellAtLine(textOfOpen(notebook).lines, line - 1);
			const range = new NotebookRange(cell, cell + 1);
			const open = window.visibleNotebookEditors.find((one) => one.notebook === notebook);
			const shown = await window.showNotebookDocument(notebook, {
				viewColumn: open?.viewColumn ?? ViewColumn.One,
				selections: [range],
			});
			shown.revealRange(range, NotebookEditorRevealType.InCenterIfOutsideViewport);
			return;
		}
		const at = new Position(Math.max(0, line - 1), 0);
		const open = window.visibleTextEditors.find(
			({ document }) => document.uri.toString() === this.#document.toString(),
		);
		const editor = await window.showTextDocument(this.#document, {
			viewColumn: open?.viewColumn ?? ViewColumn.One,
			preserveFocus: false,
		});
		editor.selection = new Selection(at, at);
		editor.revealRange(new Range(at, at), TextEditorRevealType.InCenterIfOutsideViewport);
	}
}

/** The file a document belongs to: for a notebook's cell the notebook's. */
const fileOf = (uri: Uri): Uri => cellOfDocument(uri)?.notebook.uri ?? uri;

const asHtml = (text: string): string => text.replace(/&/g, "&amp;").replace(/</g, "&lt;");

export function registerPreview(
	client: BaseLanguageClient,
	extension: Uri,
	register: (command: string, run: () => void) => Disposable,
): readonly Disposable[] {
	const open = (uri: Uri): void => {
		const panel = window.createWebviewPanel(
			Preview.viewType,
			l10n.t("Preview"),
			{ viewColumn: ViewColumn.Beside, preserveFocus: true },
			{ enableScripts: true },
		);
		new Preview(client, extension, uri, panel);
	};
	return [
		register(COMMANDS.openPreview, () => {
			const document = window.activeTextEditor?.document;
			const notebook = window.activeNotebookEditor?.notebook;
			if (notebook && isPlanNotebook(notebook)) open(notebook.uri);
			else if (document?.languageId === LANGUAGE) open(fileOf(document.uri));
		}),
	];
}
