/** What both entries do. The client is thin: it starts the server and shows what it answers. */
import { type ExtensionContext, workspace } from "vscode";
import type { BaseLanguageClient, LanguageClientOptions } from "vscode-languageclient";
import { EXPLANATION_SCHEME, explanationPages } from "./explanation-pages.ts";

export const LANGUAGE = "lodebook";
export const CLIENT_ID = "lodebook";
export const CLIENT_NAME = "Lodebook";

let client: BaseLanguageClient | undefined;

/** In every kind of workspace, virtual ones and notebook cells too: the selector names no scheme. */
export const clientOptions = (): LanguageClientOptions => ({
	documentSelector: [{ language: LANGUAGE }],
	markdown: { isTrusted: false, supportHtml: false },
});

export async function activateShared(context: ExtensionContext, create: () => BaseLanguageClient): Promise<void> {
	client = create();
	context.subscriptions.push(workspace.registerTextDocumentContentProvider(EXPLANATION_SCHEME, explanationPages(client)));
	await client.start();
}

export async function deactivateShared(): Promise<void> {
	await client?.stop();
}
