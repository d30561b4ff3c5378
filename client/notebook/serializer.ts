/** Reads and writes the file of a notebook. It needs no server: a plan can be opened and saved whatever else fails. */
import { commands, l10n, type NotebookData, type NotebookSerializer, TabInputNotebook, window } from "vscode";
import { NOTEBOOK_TYPE } from "../../shared/protocol/language.ts";
import { bytesOf, textOfBytes } from "../utf8.ts";
import { notebookData, textOfData } from "./plan-notebook.ts";

export const serializer: NotebookSerializer = {
	deserializeNotebook(bytes): NotebookData {
		try {
			const text = textOfBytes(bytes);
			if (text === undefined)
				throw new Error(
					l10n.t(
						"The file is not UTF-8, and part of its text would be lost in a notebook. Open it as text and save it as UTF-8.",
					),
				);
			return notebookData(text);
		} catch (error) {
			void offerText(error instanceof Error ? error.message : String(error));
			throw error;
		}
	},
	serializeNotebook: (data): Uint8Array => bytesOf(textOfData(data)),
};

async function offerText(message: string): Promise<void> {
	const open = l10n.t("Open as Text");
	if ((await window.showErrorMessage(message, open)) !== open) return;
	const tab = window.tabGroups.all
		.flatMap(({ activeTab }) => activeTab ?? [])
		.find(({ input }) => input instanceof TabInputNotebook && input.notebookType === NOTEBOOK_TYPE);
	if (tab?.input instanceof TabInputNotebook)
		await commands.executeCommand("vscode.openWith", tab.input.uri, "default", tab.group.viewColumn);
}
