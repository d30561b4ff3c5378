/** Commands of the notebook: open a plan as one, go back to the text at the same place, add a cell, start a new one. */
import {
	commands,
	type Disposable,
	l10n,
	type NotebookCell,
	type NotebookCellData,
	NotebookCellKind,
	type NotebookDocument,
	type NotebookDocumentChangeEvent,
	NotebookEdit,
	NotebookEditorRevealType,
	NotebookRange,
	Range,
	TabInputNotebook,
	TabInputText,
	type TextDocument,
	type Uri,
	type ViewColumn,
	WorkspaceEdit,
	window,
	workspace,
} from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { notebookOf } from "../../shared/plan/notebook.ts";
import { COMMANDS } from "../../shared/protocol/commands.ts";
import { LANGUAGE, NOTEBOOK_TYPE } from "../../shared/protocol/language.ts";
import { ask } from "../../shared/protocol/message.ts";
import { KINDS_TO_ADD } from "../../shared/protocol/notebook.ts";
import { askForPlan } from "../new-plan.ts";
import { untitled } from "../untitled.ts";
import { cellAtLine, cellData, cellLines, isPlanNotebook, notebookData, textOfOpen } from "./plan-notebook.ts";

export function registerNotebookCommands(client: BaseLanguageClient): readonly Disposable[] {
	return [
		commands.registerCommand(COMMANDS.openNotebook, () => openAsNotebook()),
		commands.registerCommand(COMMANDS.openText, () => openAsText()),
		commands.registerCommand(COMMANDS.addCell, () => addCell(client)),
		workspace.onDidChangeNotebookDocument((change) => {
			const cell = emptyCellOf(change);
			if (cell) void fillCell(client, cell);
		}),
		commands.registerCommand(COMMANDS.newNotebook, () => newNotebook(client)),
	];
}

/** From the text to the notebook, at the cell where the cursor is. */
async function openAsNotebook(): Promise<void> {
	const editor = window.activeTextEditor;
	if (editor?.document.languageId !== LANGUAGE) return;
	const { document, viewColumn } = editor;
	const index = cellAtLine(cellLines(document.getText()), editor.selection.active.line);
	if (document.isUntitled) {
		const notebook = await untitledNotebook(document.getText());
		await window.showNotebookDocument(notebook, {
			...columnOf(viewColumn),
			selections: [new NotebookRange(index, index + 1)],
		});
		return;
	}
	if (!(await saved(document))) return;
	await commands.executeCommand("vscode.openWith", document.uri, NOTEBOOK_TYPE, viewColumn);
	const opened = window.activeNotebookEditor;
	if (opened?.notebook.uri.toString() !== document.uri.toString()) return;
	const range = new NotebookRange(index, index + 1);
	opened.selections = [range];
	opened.revealRange(range, NotebookEditorRevealType.InCenterIfOutsideViewport);
	await closeOther(document.uri, viewColumn, TabInputText);
}

/** From the notebook to the text, at the line where the cursor is, or where the cell begins. */
async function openAsText(): Promise<void> {
	const editor = window.activeNotebookEditor;
	if (!editor || !isPlanNotebook(editor.notebook)) return;
	const { notebook, viewColumn, selection } = editor;
	const cell =
		notebook.cellCount === 0 ? undefined : notebook.cellAt(Math.min(selection.start, notebook.cellCount - 1));
	const cursor = window.activeTextEditor;
	const inside =
		cell && cursor?.document.uri.toString() === cell.document.uri.toString() ? cursor.selection.active : undefined;
	const { text, lines } = textOfOpen(notebook);
	const line = (lines[cell?.index ?? 0] ?? 0) + (inside?.line ?? 0);
	const at = new Range(line, inside?.character ?? 0, line, inside?.character ?? 0);
	if (notebook.isUntitled) {
		await window.showTextDocument(await workspace.openTextDocument({ language: LANGUAGE, content: text }), {
			...columnOf(viewColumn),
			selection: at,
		});
		return;
	}
	if (!(await saved(notebook))) return;
	await commands.executeCommand("vscode.openWith", notebook.uri, "default", { ...columnOf(viewColumn), selection: at });
	await closeOther(notebook.uri, viewColumn, TabInputNotebook);
}

const columnOf = (viewColumn: ViewColumn | undefined): { viewColumn?: ViewColumn } =>
	viewColumn === undefined ? {} : { viewColumn };

/** Both faces read the file: what is not saved in one would not be seen in the other. */
async function saved(document: Pick<TextDocument, "isDirty" | "save">): Promise<boolean> {
	if (!document.isDirty) return true;
	const save = l10n.t("Save and Switch");
	const chosen = await window.showInformationMessage(
		l10n.t("The plan has unsaved changes. Save them and switch?"),
		{ modal: true },
		save,
	);
	return chosen === save && (await document.save());
}

/** Closes the face that was left, once the other is in its place. */
async function closeOther(
	uri: Uri,
	column: ViewColumn | undefined,
	kind: typeof TabInputText | typeof TabInputNotebook,
): Promise<void> {
	const tab = window.tabGroups.all
		.filter(({ viewColumn }) => column === undefined || viewColumn === column)
		.flatMap(({ tabs }) => tabs)
		.find(({ input }) => input instanceof kind && input.uri.toString() === uri.toString());
	if (tab && !tab.isDirty && !tab.isActive) await window.tabGroups.close(tab);
}

/** Asks for a kind, and adds a cell of it after the one that is selected. */
async function addCell(client: BaseLanguageClient): Promise<void> {
	const editor = window.activeNotebookEditor;
	if (!editor || !isPlanNotebook(editor.notebook)) return;
	const { notebook } = editor;
	const cells = await askForCells(client, notebook);
	if (!cells) return;
	const at = notebook.cellCount === 0 ? 0 : Math.min(editor.selection.end, notebook.cellCount);
	const edit = new WorkspaceEdit();
	edit.set(notebook.uri, [NotebookEdit.insertCells(at, [...cells])]);
	await workspace.applyEdit(edit);
	const range = new NotebookRange(at, at + 1);
	editor.selections = [range];
	editor.revealRange(range, NotebookEditorRevealType.InCenterIfOutsideViewport);
	// A note shows nothing but its text, and has none yet.
	if (cells.some(({ kind }) => kind === NotebookCellKind.Markup)) await commands.executeCommand("notebook.cell.edit");
}

/** The cell that the editor's own buttons and keys have added to the notebook in front: there is nothing in it. */
function emptyCellOf({ notebook, contentChanges }: NotebookDocumentChangeEvent): NotebookCell | undefined {
	const [change, ...others] = contentChanges;
	const [cell, ...more] = change?.addedCells ?? [];
	const alone = others.length === 0 && more.length === 0 && change?.removedCells.length === 0;
	return alone &&
		isPlanNotebook(notebook) &&
		window.activeNotebookEditor?.notebook === notebook &&
		cell?.kind === NotebookCellKind.Code &&
		cell.document.getText() === ""
		? cell
		: undefined;
}

/** Asks for the kind of a cell that was added empty; it stays empty where none is chosen. */
async function fillCell(client: BaseLanguageClient, cell: NotebookCell): Promise<void> {
	const cells = await askForCells(client, cell.notebook);
	if (!cells || cell.index < 0 || cell.document.getText() !== "") return;
	const edit = new WorkspaceEdit();
	edit.set(cell.notebook.uri, [NotebookEdit.replaceCells(new NotebookRange(cell.index, cell.index + 1), [...cells])]);
	await workspace.applyEdit(edit);
}

/** A cell of the kind that is chosen, as it begins. */
async function askForCells(
	client: BaseLanguageClient,
	notebook: NotebookDocument,
): Promise<readonly NotebookCellData[] | undefined> {
	const kinds = await ask(client, KINDS_TO_ADD, {
		uri: client.code2ProtocolConverter.asUri(notebook.uri),
	});
	const chosen = await window.showQuickPick(kinds ?? [], {
		placeHolder: l10n.t("Which kind of cell?"),
		matchOnDetail: true,
	});
	const outcome = chosen && notebookOf(chosen.text);
	return outcome?.ok
		? outcome.notebook.cells.map(({ kind, shown }) => cellData({ kind, shown, kept: undefined }))
		: undefined;
}

/** Asks where and when, and opens a notebook without findings. */
async function newNotebook(client: BaseLanguageClient): Promise<void> {
	const plan = await askForPlan(client);
	if (plan) await window.showNotebookDocument(await untitledNotebook(plan.text, plan.file));
}

/** A notebook without a file yet; its name ends as a plan's must, so that it is saved as one. */
async function untitledNotebook(text: string, name = "new-plan"): Promise<NotebookDocument> {
	const notebook = await workspace.openNotebookDocument(await untitled(name));
	const { cells, metadata } = notebookData(text);
	const edit = new WorkspaceEdit();
	edit.set(notebook.uri, [
		NotebookEdit.replaceCells(new NotebookRange(0, notebook.cellCount), cells),
		NotebookEdit.updateNotebookMetadata(metadata ?? {}),
	]);
	await workspace.applyEdit(edit);
	return notebook;
}
