/** Entry of the browser extension: the server runs in a web worker. */
import { type ExtensionContext, Uri } from "vscode";
import { LanguageClient } from "vscode-languageclient/browser";
import { activateShared, CLIENT_ID, CLIENT_NAME, clientOptions, deactivateShared } from "./activate.ts";

/** The part of a web worker the client needs; the project's own code is compiled without the browser's types. */
type WorkerConstructor = new (url: string) => ConstructorParameters<typeof LanguageClient>[2];

export async function activate(context: ExtensionContext): Promise<void> {
	const script = Uri.joinPath(context.extensionUri, "dist", "server.worker.js").toString(true);
	const { Worker } = globalThis as unknown as { Worker: WorkerConstructor };
	await activateShared(context, () => new LanguageClient(CLIENT_ID, CLIENT_NAME, new Worker(script), clientOptions()));
}

export const deactivate = deactivateShared;
