/** Entry of the browser extension: the server runs in a web worker. */
import { type ExtensionContext, Uri } from "vscode";
import { LanguageClient } from "vscode-languageclient/browser";
import { activateShared, CLIENT_ID, CLIENT_NAME, clientOptions, deactivateShared } from "./activate.ts";

export async function activate(context: ExtensionContext): Promise<void> {
	const script = Uri.joinPath(context.extensionUri, "dist", "server.worker.js").toString(true);
	await activateShared(context, () => new LanguageClient(CLIENT_ID, CLIENT_NAME, new Worker(script), clientOptions()));
}

export const deactivate = deactivateShared;
