/** The preview of a plan: a webview that shows the server's page and is patched as the plan changes. */
import {
	type Disposable,
	l10n,
	type Memento,
	NotebookEditorRevealType,
	NotebookRange,
	Position,
	Range,
	Selection,
	TabInputNotebook,
	TabInputText,
	TextEditorRevealType,
	TextEditorSelectionChangeKind,
	Uri,
	ViewColumn,
	type WebviewPanel,
	window,
	workspace,
} from "vscode";
import { type BaseLanguageClient, State } from "vscode-languageclient";
import { LANGUAGE } from "../shared/protocol/language.ts";
import { ask, hear } from "../shared/protocol/message.ts";
import { type FromPage, PAGE, PAGE_STYLE, REFRESH, type ToPage } from "../shared/protocol/page.ts";
import { cellAtLine, cellOfDocument, isPlanNotebook, openNotebook, textOfOpen } from "./notebook/plan-notebook.ts";

/** What a preview is made with. */
export interface PreviewHost {
	readonly client: BaseLanguageClient;
	/** Where the extension is. */
	readonly extension: Uri;
	/** What is remembered from one preview to the next. */
	readonly remembered: Pick<Memento, "get" | "update">;
}

/** Dim red or normal colours: kept for the next preview. */
const DIM = "preview.dim";

export class Preview {
	static readonly viewType = "lodebook.preview";
	readonly #host: PreviewHost;
	static readonly #open = new Set<Preview>();
	readonly #panel: WebviewPanel;
	readonly #disposables: Disposable[] = [];
	#document: Uri;
	#locked: boolean;
	#requested = 0;
	#closed = false;
	/** The page has its style; without it the page is drawn anew once the server answers. */
	#styled = false;
	/** The reader went to a line by a click on the page: the page must not jump for it. */
	#revealing = false;
	/** The last page of this plan that could be drawn. */
	#last: { readonly html: string; readonly at: Date } | undefined;

	constructor(host: PreviewHost, document: Uri, panel: WebviewPanel, locked = false) {
		this.#host = host;
		this.#document = document;
		this.#panel = panel;
		this.#locked = locked;
		const { client, extension } = host;
		panel.webview.options = { enableScripts: true, localResourceRoots: [Uri.joinPath(extension, "dist")] };
		panel.iconPath = {
			light: Uri.joinPath(extension, "client/media/plan-light.svg"),
			dark: Uri.joinPath(extension, "client/media/plan-dark.svg"),
		};
		this.#disposables.push(
			panel.webview.onDidReceiveMessage((message: FromPage) => this.#hear(message)),
			workspace.onDidChangeTextDocument(({ document: changed }) => {
				if (this.#isShown(fileOf(changed.uri))) void this.#show();
			}),
			workspace.onDidChangeNotebookDocument(({ notebook, contentChanges }) => {
				if (contentChanges.length > 0 && this.#isShown(notebook.uri)) void this.#show();
			}),
			hear(client, REFRESH, () => void this.#show()),
			// A server that was started again may answer what the one before could not.
			client.onDidChangeState(({ newState }) => {
				if (newState === State.Running) void (this.#styled ? this.#show() : this.#draw());
			}),
			window.onDidChangeActiveTextEditor((editor) => {
				if (editor?.document.languageId === LANGUAGE) this.#follow(fileOf(editor.document.uri));
			}),
			window.onDidChangeActiveNotebookEditor((editor) => {
				if (editor && isPlanNotebook(editor.notebook)) this.#follow(editor.notebook.uri);
			}),
			window.onDidChangeTextEditorSelection(({ textEditor, selections, kind }) => {
				const { uri } = textEditor.document;
				const inCell = cellOfDocument(uri);
				const before = inCell ? (textOfOpen(inCell.notebook).lines[inCell.cell.index] ?? 0) : 0;
				const line = before + (selections[0]?.active.line ?? 0) + 1;
				this.#cursorAt(fileOf(uri), line, kind === TextEditorSelectionChangeKind.Mouse);
			}),
			// A cell that is chosen without a cursor in it, and a note, which has none.
			window.onDidChangeNotebookEditorSelection(({ notebookEditor, selections }) => {
				const { notebook } = notebookEditor;
				if (!isPlanNotebook(notebook)) return;
				this.#cursorAt(notebook.uri, (textOfOpen(notebook).lines[selections[0]?.start ?? 0] ?? 0) + 1, true);
			}),
			panel.onDidDispose(() => {
				this.#closed = true;
				Preview.#open.delete(this);
				for (const one of this.#disposables.splice(0)) one.dispose();
			}),
		);
		Preview.#open.add(this);
		void this.#draw();
	}

	/** The plan of the preview that is in front. */
	static documentInFront(): Uri | undefined {
		for (const preview of Preview.#open) if (preview.isInFront) return preview.#document;
		return undefined;
	}

	get locked(): boolean {
		return this.#locked;
	}

	/** The group of editors it is in. */
	get column(): ViewColumn | undefined {
		return this.#panel.viewColumn;
	}

	get isInFront(): boolean {
		return this.#panel.active;
	}

	/** Shows a plan, and comes to the front of its group. */
	open(uri: Uri, preserveFocus: boolean): void {
		this.#panel.reveal(this.#panel.viewColumn, preserveFocus);
		this.#turnTo(uri);
	}

	toggleLock(): void {
		this.#locked = !this.#locked;
		void this.#show();
	}

	/** Goes to the plan's text or notebook. */
	showSource(): Promise<void> {
		return this.#reveal(undefined);
	}

	#hear(message: FromPage): void {
		if (message.type === "ready") void this.#show();
		if (message.type === "reveal") void this.#reveal(message.line);
		if (message.type === "dim") void this.#host.remembered.update(DIM, message.dim);
	}

	#isShown(uri: Uri): boolean {
		return uri.toString() === this.#document.toString();
	}

	/** The empty page with its style and script; the content comes as a message once the script is there. */
	async #draw(): Promise<void> {
		const { webview } = this.#panel;
		let style = "";
		let problem = "";
		try {
			style = await ask(this.#host.client, PAGE_STYLE);
			this.#styled = true;
		} catch (error) {
			problem = this.#failed(error);
		}
		if (this.#closed) return;
		const script = webview.asWebviewUri(Uri.joinPath(this.#host.extension, "dist", "page.js"));
		const nonce = Array.from({ length: 32 }, () => Math.floor(Math.random() * 36).toString(36)).join("");
		const policy = `default-src 'none'; style-src 'nonce-${nonce}'; script-src ${webview.cspSource}; base-uri 'none'; form-action 'none'`;
		const mode = this.#host.remembered.get(DIM) === true ? ' data-mode="dim"' : "";
		webview.html = `<!DOCTYPE html><html lang="en"${mode}><head><meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="${policy}"><meta name="viewport" content="width=device-width, initial-scale=1"><title>${asHtml(this.#title())}</title><style nonce="${nonce}">${style}</style></head><body><main><p id="banner" class="banner" role="status"${problem === "" ? " hidden" : ""}>${asHtml(problem)}</p><div id="instead"></div><div id="page"></div></main><script src="${script.toString()}"></script></body></html>`;
	}

	/** The plan in front, unless this preview keeps its own. */
	#follow(uri: Uri): void {
		if (!this.#locked) this.#turnTo(uri);
	}

	#turnTo(uri: Uri): void {
		if (this.#isShown(uri)) return;
		this.#document = uri;
		this.#last = undefined;
		// Nothing of the other plan is seen under this one's name, however long the answer takes.
		this.#post({});
		void this.#show();
	}

	async #show(): Promise<void> {
		const request = ++this.#requested;
		const current = (): boolean => request === this.#requested && !this.#closed;
		this.#panel.title = this.#title();
		try {
			const uri = await this.#opened();
			const answer = await ask(this.#host.client, PAGE, { uri: this.#host.client.code2ProtocolConverter.asUri(uri) });
			if (!answer || !current()) return;
			// What makes pages could not be loaded at first.
			if (!this.#styled) return void this.#draw();
			if (answer.html !== "") this.#last = { html: answer.html, at: new Date() };
			this.#post({ instead: answer.instead, banner: answer.html === "" ? this.#staleText() : "" });
		} catch (error) {
			const problem = this.#failed(error);
			if (current()) this.#post({ banner: problem });
		}
	}

	/** The document to ask about: of a notebook any cell will do for the whole. A plan that no editor shows is opened. */
	async #opened(): Promise<Uri> {
		const cell = openNotebook(this.#document)?.getCells()[0];
		if (cell) return cell.document.uri;
		if (!workspace.textDocuments.some(({ uri }) => this.#isShown(uri)))
			await workspace.openTextDocument(this.#document);
		return this.#document;
	}

	/** Of when the page is that is still shown; empty where none is. */
	#staleText(): string {
		return this.#last
			? l10n.t(
					"This plan cannot be drawn as it is now. The page below the list is of {0}.",
					this.#last.at.toLocaleTimeString(),
				)
			: "";
	}

	#title(): string {
		const name = this.#document.path.split("/").pop() ?? "";
		return this.#locked ? l10n.t("Preview, locked: {0}", name) : l10n.t("Preview: {0}", name);
	}

	/** Logs why the page could not be drawn, and says it in the words of its banner. */
	#failed(error: unknown): string {
		const problem = l10n.t("The page cannot be drawn: {0}", error instanceof Error ? error.message : String(error));
		this.#host.client.error(problem, error, false);
		return problem;
	}

	#post({ instead = "", banner = "" }: { readonly instead?: string; readonly banner?: string }): void {
		void this.#send({
			type: "page",
			plan: this.#document.toString(),
			title: this.#title(),
			locked: this.#locked,
			html: this.#last?.html ?? "",
			instead,
			banner,
		});
	}

	#send(message: ToPage): Thenable<boolean> {
		return this.#panel.webview.postMessage(message);
	}

	#cursorAt(uri: Uri, line: number, byMouse: boolean): void {
		const follow = workspace.getConfiguration(LANGUAGE).get("preview.followCursor");
		if (follow === "never" || (follow === "click" && !byMouse)) return;
		if (!this.#revealing && this.#isShown(uri)) void this.#send({ type: "cursor", line });
	}

	/** Goes to a line of the plan, from 1; without one to the plan as it was left. */
	async #reveal(line: number | undefined): Promise<void> {
		this.#revealing = true;
		setTimeout(() => {
			this.#revealing = false;
		}, 300);
		const viewColumn = columnOf(this.#document) ?? ViewColumn.One;
		const notebook = openNotebook(this.#document);
		if (notebook) {
			const cell = line === undefined ? undefined : cellAtLine(textOfOpen(notebook).lines, line - 1);
			const range = cell === undefined ? undefined : new NotebookRange(cell, cell + 1);
			const shown = await window.showNotebookDocument(notebook, { viewColumn, ...(range && { selections: [range] }) });
			if (range) shown.revealRange(range, NotebookEditorRevealType.InCenterIfOutsideViewport);
			return;
		}
		const editor = await window.showTextDocument(this.#document, { viewColumn, preserveFocus: false });
		if (line === undefined) return;
		const at = new Position(Math.max(0, line - 1), 0);
		editor.selection = new Selection(at, at);
		editor.revealRange(new Range(at, at), TextEditorRevealType.InCenterIfOutsideViewport);
	}
}

/** The group of editors in which a plan is open, as text or as a notebook, in front or behind. */
const columnOf = (plan: Uri): ViewColumn | undefined =>
	window.tabGroups.all.find(({ tabs }) =>
		tabs.some(
			({ input }) =>
				(input instanceof TabInputText || input instanceof TabInputNotebook) &&
				input.uri.toString() === plan.toString(),
		),
	)?.viewColumn;

/** The file a document belongs to: for a notebook's cell the notebook's. */
export const fileOf = (uri: Uri): Uri => cellOfDocument(uri)?.notebook.uri ?? uri;

const asHtml = (text: string): string => text.replace(/&/g, "&amp;").replace(/</g, "&lt;");
