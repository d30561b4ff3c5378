/** Entry of the desktop extension: the server runs in a process of its own. */
import { realpath } from "node:fs/promises";
import { type ExtensionContext, Uri } from "vscode";
import { LanguageClient, TransportKind } from "vscode-languageclient/node";
import { activateShared, CLIENT_ID, CLIENT_NAME, clientOptions, deactivateShared } from "./activate.ts";

export async function activate(context: ExtensionContext): Promise<void> {
	const server = {
		module: Uri.joinPath(context.extensionUri, "dist", "server.node.cjs").fsPath,
		transport: TransportKind.ipc,
	};
	// A debugged extension has a server that can be debugged (.vscode/launch.json).
	const debug = { ...server, options: { execArgv: ["--nolazy", "--inspect=6009"] } };
	await activateShared(
		context,
		clientOptions(),
		(options) => {
			const client = new LanguageClient(CLIENT_ID, CLIENT_NAME, { run: server, debug }, options);
			return { client, end: () => void client.dispose(LEAVING_MS).catch(() => {}) };
		},
		async ({ fsPath }) => Uri.file(await realpath(fsPath)),
	);
}

/** A server that is busy is not waited for. */
const LEAVING_MS = 100;

export const deactivate = deactivateShared;
