/** A plan as one of the editor's notebooks: its cells to text and back, and where its lines are. */

import {
	type NotebookCell,
	NotebookCellData,
	NotebookCellKind,
	NotebookData,
	type NotebookDocument,
	type Uri,
	window,
	workspace,
} from "vscode";
import {
	notebookOf,
	type NotebookCell as PlanContent,
	readFrame,
	readKept,
	textOfNotebook,
} from "../../shared/plan/notebook.ts";
import { LANGUAGE, NOTEBOOK_TYPE } from "../../shared/protocol/language.ts";
import { told } from "../../shared/text/sentence.ts";

export const isPlanNotebook = ({ notebookType }: NotebookDocument): boolean => notebookType === NOTEBOOK_TYPE;

/** The notebook that is open by a file's URI. */
export const openNotebook = (uri: Uri | string): NotebookDocument | undefined =>
	workspace.notebookDocuments.find(
		(notebook) => isPlanNotebook(notebook) && notebook.uri.toString() === uri.toString(),
	);

/** The file a document belongs to: for a notebook's cell the notebook's. */
export const fileOf = (uri: Uri): Uri => cellOfDocument(uri)?.notebook.uri ?? uri;

/** The document to ask the server about: of a notebook any cell will do for the whole. A plan that no editor shows is opened. */
export async function openedDocument(plan: Uri): Promise<Uri> {
	const cell = openNotebook(plan)?.getCells()[0];
	if (cell) return cell.document.uri;
	if (!workspace.textDocuments.some(({ uri }) => uri.toString() === plan.toString()))
		await workspace.openTextDocument(plan);
	return plan;
}

/** The notebook whose cell a document is, and the cell. */
export function cellOfDocument(
	uri: Uri,
): { readonly notebook: NotebookDocument; readonly cell: NotebookCell } | undefined {
	const text = uri.toString();
	for (const notebook of workspace.notebookDocuments) {
		if (!isPlanNotebook(notebook)) continue;
		const cell = notebook.getCells().find(({ document }) => document.uri.toString() === text);
		if (cell) return { notebook, cell };
	}
	return undefined;
}

/** The plan's notebook in front, whether or not the cursor is in one of its cells. */
export function notebookInFront(): NotebookDocument | undefined {
	const document = window.activeTextEditor?.document;
	const notebook = (document && cellOfDocument(document.uri)?.notebook) ?? window.activeNotebookEditor?.notebook;
	return notebook && isPlanNotebook(notebook) ? notebook : undefined;
}

export function cellData({ kind, shown, kept }: PlanContent): NotebookCellData {
	const data =
		kind === "note"
			? new NotebookCellData(NotebookCellKind.Markup, shown, "markdown")
			: new NotebookCellData(NotebookCellKind.Code, shown, LANGUAGE);
	data.metadata = kept ? { kept } : {};
	return data;
}

/** The notebook of a text; throws in words what cannot be one. */
export function notebookData(text: string): NotebookData {
	const outcome = notebookOf(text);
	if (!outcome.ok) throw new Error(told(outcome.why));
	const { cells, mark, lineEnd } = outcome.notebook;
	const data = new NotebookData(cells.map(cellData));
	data.metadata = { mark, lineEnd };
	return data;
}

const planCell = (
	kind: NotebookCellKind,
	shown: string,
	metadata: { readonly [key: string]: unknown } | undefined,
): PlanContent => ({
	kind: kind === NotebookCellKind.Markup ? "note" : "yaml",
	shown,
	kept: readKept(metadata?.kept),
});

/** The text of a notebook as it is being saved. */
export const textOfData = ({ cells, metadata }: NotebookData): string =>
	textOfNotebook(
		cells.map(({ kind, value, metadata: kept }) => planCell(kind, value, kept)),
		readFrame(metadata),
	).text;

/** The cells of an open notebook, as they are now. */
export const planCells = (notebook: NotebookDocument): readonly PlanContent[] =>
	notebook.getCells().map(({ kind, document, metadata }) => planCell(kind, document.getText(), metadata));

/** The text of an open notebook, as it is now, and the line at which each cell begins in it. */
export function textOfOpen(notebook: NotebookDocument): { readonly text: string; readonly lines: readonly number[] } {
	const { text, places } = textOfNotebook(planCells(notebook), readFrame(notebook.metadata));
	return { text, lines: linesAt(text, places) };
}

/** The text of a plan that is open, as it is now, in whichever face; empty where it is open in none. */
export function textOfPlan(plan: Uri): string {
	const notebook = openNotebook(plan);
	if (notebook) return textOfOpen(notebook).text;
	return workspace.textDocuments.find(({ uri }) => uri.toString() === plan.toString())?.getText() ?? "";
}

/** The line of each cell in a text, from 0. */
export function cellLines(text: string): readonly number[] {
	const outcome = notebookOf(text);
	if (!outcome.ok) return [];
	return linesAt(text, textOfNotebook(outcome.notebook.cells, outcome.notebook).places);
}

/** The cell that holds a line, by the lines at which cells begin. */
export function cellAtLine(lines: readonly number[], line: number): number {
	const after = lines.findIndex((start) => start > line);
	return Math.max(0, (after === -1 ? lines.length : after) - 1);
}

function linesAt(text: string, places: readonly { readonly start: number }[]): readonly number[] {
	let [line, at] = [0, 0];
	return places.map(({ start }) => {
		for (let feed = text.indexOf("\n", at); feed !== -1 && feed < start; feed = text.indexOf("\n", at)) {
			line++;
			at = feed + 1;
		}
		return line;
	});
}
