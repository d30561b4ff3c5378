/** Plans that have no file yet. */
import { Range, type TextDocument, Uri, WorkspaceEdit, window, workspace } from "vscode";
import { LANGUAGE, PLAN_ENDING } from "../shared/protocol/language.ts";

/** The address of a plan that will be saved under a name, in the folder that is open; a number makes it a new one. */
export async function untitled(name: string): Promise<Uri> {
	const folder = workspace.workspaceFolders?.[0]?.uri;
	const open = new Set([...workspace.textDocuments, ...workspace.notebookDocuments].map(({ uri }) => uri.path));
	for (let number = 1; ; number++) {
		const file = `${name}${number === 1 ? "" : `-${number}`}${PLAN_ENDING}`;
		const there = folder ? Uri.joinPath(folder, file) : Uri.from({ scheme: "untitled", path: file });
		if (open.has(there.path) || (folder && (await exists(there)))) continue;
		return Uri.from({ scheme: "untitled", path: there.path });
	}
}

const exists = (file: Uri): Promise<boolean> =>
	Promise.resolve(workspace.fs.stat(file)).then(
		() => true,
		() => false,
	);

/** Shows a text as a new plan; in the document given, where there is nothing in that. */
export async function showPlan(text: string, name: string, into?: string): Promise<TextDocument> {
	const empty = workspace.textDocuments.find(({ uri }) => uri.toString() === into);
	const there = empty && empty.getText().trim() === "" ? empty : undefined;
	const document = there ?? (await workspace.openTextDocument(await untitled(name)));
	const edit = new WorkspaceEdit();
	edit.replace(document.uri, new Range(0, 0, document.lineCount, 0), text);
	await workspace.applyEdit(edit);
	if (document.languageId !== LANGUAGE) await window.showTextDocument(document);
	await window.showTextDocument(document);
	return document;
}
