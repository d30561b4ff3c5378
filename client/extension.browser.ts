/** Entry of the browser extension: the server runs in a web worker. */
import { type ExtensionContext, Uri } from "vscode";
import { LanguageClient } from "vscode-languageclient/browser";
import { activateShared, CLIENT_ID, CLIENT_NAME, clientOptions, deactivateShared } from "./activate.ts";

export async function activate(context: ExtensionContext): Promise<void> {
	const shipped = (name: string): string => Uri.joinPath(context.extensionUri, "dist", name).toString(true);
	// The editor runs the worker from a blob: it cannot know what lies beside it.
	// The editor runs the worker from a blob: it cannot know what lies beside it.
	await activateShared(context, clientOptions({ secondPart: shipped("server.later.js") }), (options) => {
		const worker = new Worker(shipped("server.worker.js"));
		return { client: new LanguageClient(CLIENT_ID, CLIENT_NAME, worker, options), end: () => worker.terminate() };
	});
}

export const deactivate = deactivateShared;
