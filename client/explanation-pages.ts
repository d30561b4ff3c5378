/** The explanation of a finding as a read-only page of the editor: the link in the diagnostic opens it. */
import type { TextDocumentContentProvider } from "vscode";
import type { BaseLanguageClient } from "vscode-languageclient";
import { codeOfPath, EXPLANATION } from "../shared/protocol/explanation.ts";
import { ask } from "../shared/protocol/message.ts";

export const explanationPages = (client: BaseLanguageClient): TextDocumentContentProvider => ({
	provideTextDocumentContent: ({ path }) => ask(client, EXPLANATION, { code: codeOfPath(path) }),
});
