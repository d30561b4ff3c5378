/** Entry of the browser extension: the server runs in a web worker. */
import { type ExtensionContext, Uri } from "vscode";
import { LanguageClient } from "vscode-languageclient/browser";
import { activateShared, CLIENT_ID, CLIENT_NAME, clientOptions, deactivateShared } from "./activate.ts";

export async function activate(context: ExtensionContext): Promise<void> {
	const shipped = (name: string): string => Uri.joinPath(context.extensionUri, "dist", name).toString(true);
	// The editor runs the worker from a blob: it cannot know what lies beside it.
	const options = clientOptions({ secondPart: shipped("server.later.js") });
	await activateShared(
		context,
		() => new LanguageClient(CLIENT_ID, CLIENT_NAME, new Worker(shipped("server.worker.js")), options),
	);
}

export const deactivate = deactivateShared;
