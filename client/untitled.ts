/** Plans that have no file yet. */
import { Range, type TextDocument, Uri, WorkspaceEdit, window, workspace } from "vscode";
import { LANGUAGE, PLAN_ENDING } from "../shared/protocol/language.ts";

/** The address of a plan that will be saved under a name, in the folder that is open; a number makes it a new one. */
export function untitled(name: string): Uri {
	const folder = workspace.workspaceFolders?.[0]?.uri.path.replace(/\/$/, "");
	const taken = new Set([...workspace.textDocuments, ...workspace.notebookDocuments].map(({ uri }) => uri.path));
	const path = (number: number): string =>
		`${folder === undefined ? "" : `${folder}/`}${name}${number === 1 ? "" : `-${number}`}${PLAN_ENDING}`;
	let number = 1;
	while (taken.has(path(number))) number++;
	return Uri.from({ scheme: "untitled", path: path(number) });
}

/** Shows a text as a new plan; in the document given, where there is nothing in that. */
export async function showPlan(text: string, name: string, into?: string): Promise<TextDocument> {
	const empty = workspace.textDocuments.find(({ uri }) => uri.toString() === into);
	const there = empty && empty.getText().trim() === "" ? empty : undefined;
	const document = there ?? (await workspace.openTextDocument(untitled(name)));
	const edit = new WorkspaceEdit();
	edit.replace(document.uri, new Range(0, 0, document.lineCount, 0), text);
	await workspace.applyEdit(edit);
	if (document.languageId !== LANGUAGE) await window.showTextDocument(document);
	await window.showTextDocument(document);
	return document;
}
