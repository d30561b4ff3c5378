/**
 * The outputs under the cells: computed by the server whenever any cell changes, never stored. An output once there is
 * drawn by our own renderer, which is kept current by messages; where another form of it is shown, a cell is run for it.
 */
import {
	commands,
	type Disposable,
	l10n,
	type NotebookCell,
	NotebookCellKind,
	NotebookCellOutput,
	NotebookCellOutputItem,
	type NotebookController,
	NotebookControllerAffinity,
	type NotebookDocument,
	type NotebookRendererMessaging,
	notebooks,
	window,
	workspace,
} from "vscode";
import { type BaseLanguageClient, LSPErrorCodes, ResponseError, State } from "vscode-languageclient";
import { LANGUAGE, NOTEBOOK_TYPE } from "../../shared/protocol/language.ts";
import { ask, hear } from "../../shared/protocol/message.ts";
import {
	CELL_DATA,
	CELL_OUTPUTS,
	CELL_RENDERER,
	type CellOutput,
	type DrawnCell,
	type ShownCell,
} from "../../shared/protocol/notebook.ts";
import { REFRESH } from "../../shared/protocol/page.ts";
import { isPlanNotebook } from "./plan-notebook.ts";

const CONTROLLER_ID = "lodebook-evaluation";
/** After the last key of a row; the server needs a few milliseconds. */
const PAUSE_MS = 60;

export class Outputs implements Disposable {
	readonly #client: BaseLanguageClient;
	readonly #extension: string;
	readonly #controller: NotebookController;
	readonly #disposables: Disposable[];
	/** Notebooks that this evaluates for: the editor lets a cell have outputs only from what it has chosen. */
	readonly #chosen = new Set<NotebookDocument>();
	readonly #shown = new WeakMap<NotebookCell, ShownCell>();
	readonly #renderer: NotebookRendererMessaging = notebooks.createRendererMessaging(CELL_RENDERER);
	/** The outputs that our renderer has drawn, by the documents of their cells. */
	readonly #drawn = new Map<string, Set<string>>();
	#stamp = 0;
	readonly #waiting = new Map<NotebookDocument, ReturnType<typeof setTimeout>>();
	/** Why there is nothing to show has been said. */
	#saidWhy = false;
	readonly #running = new Set<NotebookDocument>();

	/** `extension`: its id, by which the editor knows whose evaluation this is. */
	constructor(client: BaseLanguageClient, extension: string) {
		this.#client = client;
		this.#extension = extension;
		this.#controller = notebooks.createNotebookController(
			CONTROLLER_ID,
			NOTEBOOK_TYPE,
			l10n.t("Lodebook"),
			(cells, notebook) => this.#run(cells, notebook),
		);
		this.#controller.supportedLanguages = [LANGUAGE];
		this.#controller.supportsExecutionOrder = false;
		this.#controller.description = l10n.t("computes the plan's values while you type");
		this.#disposables = [
			this.#controller,
			this.#controller.onDidChangeSelectedNotebooks(({ notebook, selected }) => {
				if (selected) this.#chosen.add(notebook);
				else this.#chosen.delete(notebook);
				this.refresh(notebook);
			}),
			workspace.onDidOpenNotebookDocument((notebook) => this.#prefer(notebook)),
			this.#renderer.onDidReceiveMessage(({ message }) => this.#hear(message as DrawnCell)),
			workspace.onDidCloseNotebookDocument((notebook) => {
				this.#chosen.delete(notebook);
				for (const cell of notebook.getCells()) this.#drawn.delete(cell.document.uri.toString());
				this.#waiting.delete(notebook);
			}),
			workspace.onDidChangeNotebookDocument(({ notebook, contentChanges, cellChanges }) => {
				// What the user cleared is shown again with the next edit, and no earlier.
				for (const { cell, outputs } of cellChanges)
					if (outputs?.length === 0 && this.#shown.get(cell)?.html !== "") this.#shown.delete(cell);
				// Outputs that were set here are no change.
				if (
					contentChanges.length > 0 ||
					cellChanges.some(({ document, metadata }) => document !== undefined || metadata !== undefined)
				)
					this.refresh(notebook);
			}),
			window.onDidChangeActiveNotebookEditor(() => this.#choose()),
			// Whatever else the plan takes from may have changed; a server that was started again knows nothing of what was shown.
			hear(client, REFRESH, () => this.#refreshAll()),
			client.onDidChangeState(({ newState }) => {
				if (newState === State.Running) this.#refreshAll();
			}),
		];
		for (const notebook of workspace.notebookDocuments) this.#prefer(notebook);
		this.#choose();
	}

	dispose(): void {
		for (const one of this.#disposables.splice(0)) one.dispose();
	}

	/** Shows what follows from the cells as they are, once they rest. */
	refresh(notebook: NotebookDocument): void {
		if (!isPlanNotebook(notebook) || !this.#chosen.has(notebook)) return;
		clearTimeout(this.#waiting.get(notebook));
		this.#waiting.set(
			notebook,
			setTimeout(() => void this.#show(notebook), PAUSE_MS),
		);
	}

	#refreshAll(): void {
		for (const notebook of workspace.notebookDocuments) this.refresh(notebook);
	}

	#prefer(notebook: NotebookDocument): void {
		if (isPlanNotebook(notebook))
			this.#controller.updateNotebookAffinity(notebook, NotebookControllerAffinity.Preferred);
	}

	/** The editor asks its user what shall run a notebook; there is one answer. */
	#choose(): void {
		const notebook = window.activeNotebookEditor?.notebook;
		if (notebook && isPlanNotebook(notebook) && !this.#chosen.has(notebook))
			void commands.executeCommand("notebook.selectKernel", { id: CONTROLLER_ID, extension: this.#extension });
	}

	async #run(cells: readonly NotebookCell[], notebook: NotebookDocument): Promise<void> {
		for (const cell of cells) this.#shown.delete(cell);
		await this.#show(notebook);
	}

	async #show(notebook: NotebookDocument): Promise<void> {
		// One after the other: an older answer must not overwrite a newer one.
		if (this.#running.has(notebook)) return this.refresh(notebook);
		this.#running.add(notebook);
		try {
			const uri = this.#client.code2ProtocolConverter.asUri(notebook.uri);
			const outputs = await ask(this.#client, CELL_OUTPUTS, { uri });
			const byCell = new Map(outputs?.map((output) => [output.uri, output]));
			for (const cell of notebook.getCells()) {
				const output = byCell.get(this.#client.code2ProtocolConverter.asUri(cell.document.uri));
				if (cell.kind === NotebookCellKind.Code && output) await this.#put(cell, output);
			}
			this.#saidWhy = false;
		} catch (error) {
			// The server is down, or the notebook was closed meanwhile: what is shown stays.
			if (!(error instanceof ResponseError) || error.code !== LSPErrorCodes.RequestFailed || this.#saidWhy) return;
			// At every edit the same, until it can be made.
			this.#saidWhy = true;
			void window.showErrorMessage(error.message);
		} finally {
			this.#running.delete(notebook);
		}
	}

	async #put(cell: NotebookCell, { html, markdown, text }: CellOutput): Promise<void> {
		if (cell.index < 0 || !this.#chosen.has(cell.notebook)) return;
		// What was shown and is not there has been cleared meanwhile.
		if (this.#shown.get(cell)?.html === html && (html === "" || cell.outputs.length > 0)) return;
		const shown: ShownCell = { cell: cell.document.uri.toString(), stamp: ++this.#stamp, html };
		if (html !== "" && cell.outputs.length > 0 && this.#drawn.has(shown.cell)) {
			this.#shown.set(cell, shown);
			void this.#renderer.postMessage(shown);
			return;
		}
		const execution = this.#controller.createNotebookCellExecution(cell);
		execution.start();
		try {
			if (html === "") await execution.clearOutput();
			else
				await execution.replaceOutput(
					new NotebookCellOutput([
						NotebookCellOutputItem.json(shown, CELL_DATA),
						NotebookCellOutputItem.text(html, "text/html"),
						NotebookCellOutputItem.text(markdown, "text/markdown"),
						NotebookCellOutputItem.text(text, "text/plain"),
					]),
				);
			this.#shown.set(cell, shown);
		} finally {
			execution.end(undefined);
		}
	}

	/** An output that was drawn from the data it was made with is told what has come about since. */
	#hear({ type, cell: uri, stamp, output }: DrawnCell): void {
		const cell = workspace.notebookDocuments
			.filter(isPlanNotebook)
			.flatMap((notebook) => notebook.getCells())
			.find(({ document }) => document.uri.toString() === uri);
		const drawn = this.#drawn.get(uri) ?? new Set();
		if (type === "drawn" && cell) {
			this.#drawn.set(uri, drawn.add(output));
			const shown = this.#shown.get(cell);
			if (shown && shown.stamp > stamp) void this.#renderer.postMessage(shown);
		} else if (drawn.delete(output) && drawn.size === 0) {
			this.#drawn.delete(uri);
			// Another form of it is shown now, made when the output was.
			if (!cell || cell.outputs.length === 0) return;
			this.#shown.delete(cell);
			this.refresh(cell.notebook);
		}
	}
}
