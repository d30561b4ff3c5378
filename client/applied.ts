/** Edits that the server answers with, applied to the plan they were made for. */
import { l10n, window, workspace } from "vscode";
import type { BaseLanguageClient, WorkspaceEdit as ProtocolEdit } from "vscode-languageclient";
import { cellOfDocument } from "./notebook/plan-notebook.ts";

/** What counts the changes of the plan a document belongs to. */
export function versionOf(uri: string): number | undefined {
	const document = workspace.textDocuments.find((one) => one.uri.toString() === uri);
	return document && (cellOfDocument(document.uri)?.notebook.version ?? document.version);
}

/** Says that what was chosen is of a plan that has changed since. */
export const sayChanged = (): void =>
	void window.showWarningMessage(l10n.t("The plan has changed in the meantime. Choose again."));

/** Applies what was answered for a version of the plan, or says why not; whether it was applied. */
export async function applyTo(
	client: BaseLanguageClient,
	front: { readonly version: () => number | undefined },
	version: number | undefined,
	written: { readonly edit: ProtocolEdit | null; readonly problem: string } | null,
): Promise<boolean> {
	if (!written) return false;
	if (front.version() !== version) sayChanged();
	else if (!written.edit) void window.showWarningMessage(written.problem);
	else return apply(client, written.edit);
	return false;
}

/** Bytes that were not UTF-8 have come into the editor as U+FFFD: to save the text would lose them. */
export async function apply(client: BaseLanguageClient, edit: ProtocolEdit): Promise<boolean> {
	const changes = await client.protocol2CodeConverter.asWorkspaceEdit(edit);
	for (const [uri] of changes.entries()) {
		const document = workspace.textDocuments.find((one) => one.uri.toString() === uri.toString());
		if (!document?.getText().includes("\uFFFD")) continue;
		void window.showErrorMessage(
			l10n.t(
				"The plan was not changed: part of it is not UTF-8 and would be lost. Reopen it with its encoding and save it as UTF-8.",
			),
		);
		return false;
	}
	return workspace.applyEdit(changes);
}
