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
import type { BaseLanguageClient } from "vscode-languageclient";
import type { PageAnswer } from "../server/features/page.ts";
import { cellAtLine, cellOfDocument, isPlanNotebook, openNotebook, textOfOpen } from "./notebook/plan-notebook.ts";

export class Preview {
	static readonly viewType = "lodebook.preview";
	readonly #client: BaseLanguageClient;
	readonly #extension: Uri;
	readonly #panel: WebviewPanel;
	readonly #disposables: Disposable[] = [];
	#document: Uri;
	#requested = 0;
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
			panel.webview.onDidReceiveMessage((message: { type: string; line?: number }) => {
				if (message.type === "ready") void this.#show();
				if (message.type === "reveal" && message.line !== undefined) void this.#reveal(message.line);
			}),
			workspace.onDidChangeTextDocument(({ document: changed }) => {
				if (fileOf(changed.uri).toString() === this.#document.toString()) void this.#show();
			}),
			workspace.onDidChangeNotebookDocument(({ notebook, contentChanges }) => {
				if (contentChanges.length > 0 && notebook.uri.toString() === this.#document.toString()) void this.#show();
			}),
			client.onNotification("lodebook/refresh", () => void this.#show()),
			window.onDidChangeActiveTextEditor((editor) => {
				if (editor?.document.languageId === "lodebook") this.#turnTo(fileOf(editor.document.uri));
			}),
			window.onDidChangeActiveNotebookEditor((editor) => {
				if (editor && isPlanNotebook(editor.notebook)) this.#turnTo(editor.notebook.uri);
			}),
			window.onDidChangeTextEditorSelection(({ textEditor, selections, kind }) => {
				const follow = workspace.getConfiguration("lodebook").get("preview.followCursor");
				if (follow === "never" || (follow === "click" && kind !== TextEditorSelectionChangeKind.Mouse)) return;
				const { uri } = textEditor.document;
				if (this.#revealing || fileOf(uri).toString() !== this.#document.toString()) return;
				const inCell = cellOfDocument(uri);
				const before = inCell ? (textOfOpen(inCell.notebook).lines[inCell.cell.index] ?? 0) : 0;
				void panel.webview.postMessage({ type: "cursor", line: before + (selections[0]?.active.line ?? 0) + 1 });
			}),
			panel.onDidDispose(() => {
				for (const one of this.#disposables.splice(0)) one.dispose();
			}),
		);
		void this.#draw();
	}

	/** The empty page with its style and script; the content comes as a message once the script is there. */
	async #draw(): Promise<void> {
		const { webview } = this.#panel;
		const style = await this.#client.sendRequest<string>("lodebook/pageStyle");
		const script = webview.asWebviewUri(Uri.joinPath(this.#extension, "dist", "page.js"));
		const nonce = Array.from({ length: 32 }, () => Math.floor(Math.random() * 36).toString(36)).join("");
		const policy = `default-src 'none'; style-src 'nonce-${nonce}'; script-src ${webview.cspSource}; base-uri 'none'; form-action 'none'`;
		webview.html = `<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="${policy}"><meta name="viewport" content="width=device-width, initial-scale=1"><style nonce="${nonce}">${style}</style></head><body><p id="banner" class="banner" role="status" hidden></p><main id="page"></main><script src="${script.toString()}"></script></body></html>`;
	}

	#turnTo(uri: Uri): void {
		if (uri.toString() === this.#document.toString()) return;
		this.#document = uri;
		void this.#show();
	}

	async #show(): Promise<void> {
		const request = ++this.#requested;
		// Of a notebook any cell stands for the whole.
		const uri = openNotebook(this.#document)?.getCells()[0]?.document.uri ?? this.#document;
		const answer = await this.#client.sendRequest<PageAnswer | null>("lodebook/page", {
			uri: this.#client.code2ProtocolConverter.asUri(uri),
		});
		if (!answer || request !== this.#requested) return;
		this.#panel.title = l10n.t("Preview: {0}", this.#document.path.split("/").pop() ?? "");
		await this.#panel.webview.postMessage({
			type: "page",
			html: answer.html,
			stale: answer.stale
				? l10n.t("The plan cannot be reckoned as it stands: this is the last picture that could be drawn.")
				: "",
		});
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

declare function setTimeout(run: () => void, milliseconds: number): void;

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
		register("lodebook.openPreview", () => {
			const document = window.activeTextEditor?.document;
			const notebook = window.activeNotebookEditor?.notebook;
			if (notebook && isPlanNotebook(notebook)) open(notebook.uri);
			else if (document?.languageId === "lodebook") open(fileOf(document.uri));
		}),
	];
}
