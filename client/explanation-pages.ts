/** The explanation of a finding as a read-only page of the editor: the link in the diagnostic opens it. */
import type { TextDocumentContentProvider } from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";

export const EXPLANATION_SCHEME = "lodebook-finding";

export const explanationPages = (client: BaseLanguageClient): TextDocumentContentProvider => ({
	provideTextDocumentContent: ({ path }) =>
		client.sendRequest<string>("lodebook/explanation", { code: path.replace(/^\//, "").replace(/\.md$/, "") }),
});
