/** Read-only pages of the editor: the explanation of a finding, and the reference that comes with the extension. */
import { type TextDocumentContentProvider, Uri, workspace } from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { codeOfPath, EXPLANATION } from "../shared/protocol/explanation.ts";
import { ask } from "../shared/protocol/message.ts";

export const explanationPages = (client: BaseLanguageClient): TextDocumentContentProvider => ({
	provideTextDocumentContent: ({ path }) => ask(client, EXPLANATION, { code: codeOfPath(path) }),
});

/** Pages of the reference, by the names of their files. */
export const referencePages = (extension: Uri): TextDocumentContentProvider => ({
	async provideTextDocumentContent({ path }) {
		const file = Uri.joinPath(extension, "shared/outputs/reference", path.replace(/^.*\//, ""));
		return new TextDecoder().decode(await workspace.fs.readFile(file));
	},
});
