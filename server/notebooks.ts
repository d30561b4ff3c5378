/** The notebooks the client has open, each joined into the text of one plan as its cells change. */
import { type Connection, type NotebookDocument, NotebookDocuments } from "vscode-languageserver";
import { TextDocument } from "vscode-languageserver-textdocument";
import { type NotebookCell, readFrame, readKept, textOfNotebook } from "../shared/plan/notebook.ts";
import { type CellText, NotebookPlan } from "./plan-text.ts";

/** A cell's kind in the protocol. */
const MARKUP = 1;

export class Notebooks {
	readonly #documents = new NotebookDocuments(TextDocument);
	readonly #plans = new Map<string, NotebookPlan>();
	/** The cells of all notebooks, by their URIs. */
	readonly #cells = new Map<string, CellText>();
	/** Versions count down from zero, so that none is ever that of a text document by the same URI. */
	#version = 0;

	/** Follows the client's notebooks; `changed` is told of each as it is now and as it was before, without the former when it is closed. */
	listen(
		connection: Connection,
		changed: (now: NotebookPlan | undefined, before: NotebookPlan | undefined) => void,
	): void {
		const take = (document: NotebookDocument): void => {
			const [plan, before] = [this.#join(document), this.#plans.get(document.uri)];
			this.#leave(before);
			this.#plans.set(document.uri, plan);
			for (const cell of plan.cells) this.#cells.set(cell.uri, cell);
			changed(plan, before);
		};
		this.#documents.onDidOpen(take);
		this.#documents.onDidClose(({ uri }) => {
			const plan = this.#plans.get(uri);
			if (!plan) return;
			this.#leave(plan);
			this.#plans.delete(uri);
			changed(undefined, plan);
		});
		// The library tells of no change when cells only change places: here every change counts.
		const { synchronization } = connection.notebooks;
		const onDidChangeNotebookDocument: typeof synchronization.onDidChangeNotebookDocument = (handler) =>
			synchronization.onDidChangeNotebookDocument(async (params) => {
				await handler(params);
				const document = this.#documents.getNotebookDocument(params.notebookDocument.uri);
				if (document) take(document);
			});
		this.#documents.listen({
			notebooks: { synchronization: { ...synchronization, onDidChangeNotebookDocument } },
		} as unknown as Connection);
	}

	/** A cell by its URI. */
	cell(uri: string): CellText | undefined {
		return this.#cells.get(uri);
	}

	/** A notebook by its URI. */
	plan(uri: string): NotebookPlan | undefined {
		return this.#plans.get(uri);
	}

	all(): readonly NotebookPlan[] {
		return [...this.#plans.values()];
	}

	#leave(plan: NotebookPlan | undefined): void {
		for (const { uri } of plan?.cells ?? []) this.#cells.delete(uri);
	}

	#join({ uri, cells, metadata }: NotebookDocument): NotebookPlan {
		const now = cells.map(
			(cell): NotebookCell => ({
				kind: cell.kind === MARKUP ? "note" : "yaml",
				shown: this.#documents.getCellTextDocument(cell)?.getText() ?? "",
				kept: readKept((cell.metadata as { kept?: unknown } | undefined)?.kept),
			}),
		);
		const { text, places } = textOfNotebook(now, readFrame(metadata));
		return new NotebookPlan(
			uri,
			--this.#version,
			text,
			places.map((place, i) => ({ ...place, uri: cells[i]?.document ?? "" })),
		);
	}
}
