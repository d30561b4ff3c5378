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
import { WRITE_NIGHT, YEAR_OF_NIGHTS } from "../shared/protocol/choices.ts";
import { LANGUAGE } from "../shared/protocol/language.ts";
import { ask, hear } from "../shared/protocol/message.ts";
import { type FromPage, type NightsShown, PAGE, PAGE_STYLE, REFRESH, type ToPage } from "../shared/protocol/page.ts";
import { applyTo, sayChanged, versionOf } from "./applied.ts";
import { eveningIn } from "./evening.ts";
import {
	cellAtLine,
	cellOfDocument,
	fileOf,
	isPlanNotebook,
	openedDocument,
	openNotebook,
	textOfOpen,
} from "./notebook/plan-notebook.ts";
import { asHtml, scriptFolder, webviewPage } from "./webview-page.ts";

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
	/** The nights of a year, and the version of the plan that they are of. */
	#nights: (NightsShown & { readonly version: number | undefined }) | undefined;
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
	#last: { readonly html: string; readonly at: Date; readonly version: number | undefined } | undefined;

	constructor(host: PreviewHost, document: Uri, panel: WebviewPanel, locked = false) {
		this.#host = host;
		this.#document = document;
		this.#panel = panel;
		this.#locked = locked;
		const { client, extension } = host;
		panel.webview.options = { enableScripts: true, localResourceRoots: [scriptFolder(extension)] };
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

	/** Compares the nights of a year in its picture. */
	async showNights(): Promise<void> {
		const document = this.#document;
		const isOther = (): boolean => this.#closed || document !== this.#document;
		this.#say({ html: this.#nights?.html ?? "", says: l10n.t("Comparing the nights of a year…"), isCurrent: false });
		try {
			const uri = (await openedDocument(this.#document)).toString();
			const version = versionOf(uri);
			const answer = await ask(this.#host.client, YEAR_OF_NIGHTS, { uri, from: eveningIn(0) });
			if (isOther()) return;
			const { html = "", problem = "" } = answer ?? {};
			this.#say({ html, says: problem, isCurrent: true }, version);
			this.#compareVersions(versionOf(uri));
		} catch (error) {
			if (!isOther()) this.#say({ html: "", says: this.#failed(error), isCurrent: false });
		}
	}

	/** Writes a night of the picture into the plan, if it is still of the plan as it is. */
	async #writeNight(date: string): Promise<void> {
		const uri = (await openedDocument(this.#document)).toString();
		const version = (): number | undefined => versionOf(uri);
		const known = this.#nights?.version;
		if (known === undefined || version() !== known) {
			sayChanged();
			return;
		}
		const { client } = this.#host;
		if (await applyTo(client, { version }, known, await ask(client, WRITE_NIGHT, { uri, date })))
			await this.showNights();
	}

	#say(shown: NightsShown, version?: number): void {
		this.#nights = { ...shown, version };
		void this.#send({ type: "nights", ...shown });
	}

	/** Says once that the plan is no longer the one whose nights are shown. */
	#compareVersions(now: number | undefined): void {
		if (!this.#nights?.isCurrent || this.#nights.html === "" || this.#nights.version === now) return;
		const says = l10n.t("The plan has changed since its nights were compared.");
		this.#say({ html: this.#nights.html, says, isCurrent: false });
	}

	/** Goes to the plan's text or notebook. */
	showSource(): Promise<void> {
		return this.#reveal(undefined);
	}

	#hear(message: FromPage): void {
		if (message.type === "ready") {
			void this.#show();
			if (this.#nights) this.#say(this.#nights, this.#nights.version);
		}
		if (message.type === "nights") void this.showNights();
		if (message.type === "night") void this.#writeNight(message.date);
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
		webview.html = webviewPage(webview, this.#host.extension, {
			script: "page.js",
			title: this.#title(),
			style,
			isDim: this.#host.remembered.get(DIM) === true,
			body: `<main><p id="banner" class="banner" role="status"${problem === "" ? " hidden" : ""}>${asHtml(problem)}</p><div id="instead"></div><div id="page"></div>${yearPart()}</main>`,
		});
	}

	/** The plan in front, unless this preview keeps its own. */
	#follow(uri: Uri): void {
		if (!this.#locked) this.#turnTo(uri);
	}

	#turnTo(uri: Uri): void {
		if (this.#isShown(uri)) return;
		this.#document = uri;
		this.#last = undefined;
		if (this.#nights) this.#say({ html: "", says: "", isCurrent: false });
		// Nothing of the other plan is seen under this one's name, however long the answer takes.
		this.#post({});
		void this.#show();
	}

	async #show(): Promise<void> {
		const request = ++this.#requested;
		const current = (): boolean => request === this.#requested && !this.#closed;
		this.#panel.title = this.#title();
		try {
			const uri = await openedDocument(this.#document);
			const version = versionOf(uri.toString());
			this.#compareVersions(version);
			const answer = await ask(this.#host.client, PAGE, { uri: this.#host.client.code2ProtocolConverter.asUri(uri) });
			if (!answer || !current()) return;
			// What makes pages could not be loaded at first.
			if (!this.#styled) return void this.#draw();
			if (answer.html !== "") {
				// What the plan takes from others has changed.
				if (this.#last?.version === version && this.#last?.html !== answer.html) this.#compareVersions(undefined);
				this.#last = { html: answer.html, at: new Date(), version };
			}
			this.#post({ instead: answer.instead, banner: answer.html === "" ? this.#staleText() : "" });
		} catch (error) {
			const problem = this.#failed(error);
			if (current()) this.#post({ banner: problem });
		}
	}

	/** Of when the page is that is still shown; empty where none is. */
	#staleText(): string {
		return this.#last
			? l10n.t(
					"This plan cannot be drawn as it is now. The page below the list is from {0}.",
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

/** Where the nights of a year are shown: outside of the page, since they are not made anew with it. */
const yearPart = (): string =>
	`<section aria-labelledby="year-heading"><h2 id="year-heading">${asHtml(l10n.t("Nights of a year"))}</h2><p><button id="compare-nights" type="button">${asHtml(l10n.t("Compare the nights of the coming year"))}</button></p><p id="nights-say" role="status"></p><div id="nights"></div><p id="night-says" class="soft"></p></section>`;

/** The group of editors in which a plan is open, as text or as a notebook, in front or behind. */
const columnOf = (plan: Uri): ViewColumn | undefined =>
	window.tabGroups.all.find(({ tabs }) =>
		tabs.some(
			({ input }) =>
				(input instanceof TabInputText || input instanceof TabInputNotebook) &&
				input.uri.toString() === plan.toString(),
		),
	)?.viewColumn;
