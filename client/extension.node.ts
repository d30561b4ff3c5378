/** Entry of the desktop extension: the server runs in a process of its own. */
import { type ExtensionContext, Uri } from "vscode";
import { LanguageClient, TransportKind } from "vscode-languageclient/node";
import { activateShared, CLIENT_ID, CLIENT_NAME, clientOptions, deactivateShared } from "./activate.ts";

export async function activate(context: ExtensionContext): Promise<void> {
	const module = Uri.joinPath(context.extensionUri, "dist", "server.node.cjs").fsPath;
	await activateShared(
		context,
		() => new LanguageClient(CLIENT_ID, CLIENT_NAME, { module, transport: TransportKind.ipc }, clientOptions()),
	);
}

export const deactivate = deactivateShared;
