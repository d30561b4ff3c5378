/** The language server, whatever carries its messages. */
import {
	type Connection,
	type InitializeParams,
	type InitializeResult,
	TextDocumentSyncKind,
	TextDocuments,
} from "vscode-languageserver";
import { TextDocument } from "vscode-languageserver-textdocument";
import { FEATURES } from "./features/features.ts";
import type { ReadFile } from "./library.ts";
import { NOTEBOOK_TYPE } from "./notebooks.ts";
import { Session } from "./session.ts";
import { readSettings } from "./settings.ts";

declare const LODEBOOK_VERSION: string;

/** Asked of clients that read the workspace's files for the server (in a browser it has no other way). */
export const READ_FILE_REQUEST = "lodebook/readFile";

export function start(connection: Connection, readOwnFile?: ReadFile): void {
	const documents = new TextDocuments(TextDocument);
	let clientReads = false;
	const readFile: ReadFile = async (uri) =>
		clientReads
			? ((await connection.sendRequest<string | null>(READ_FILE_REQUEST, { uri })) ?? undefined)
			: readOwnFile?.(uri);
	const session = new Session(connection, documents, readFile);
	connection.onInitialize(
		({
			capabilities: client,
			workspaceFolders,
			rootUri,
			initializationOptions,
		}: InitializeParams): InitializeResult => {
			session.client = client;
			clientReads = session.ownClient =
				(initializationOptions as { readsFiles?: boolean } | undefined)?.readsFiles === true;
			const folders = workspaceFolders?.map(({ uri }) => uri) ?? (rootUri ? [rootUri] : []);
			session.library.roots = folders.map((uri) => uri.replace(/\/+$/, ""));
			const capabilities = Object.assign(
				{ textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental } },
				client.notebookDocument ? { notebookDocumentSync: { notebookSelector: [{ notebook: NOTEBOOK_TYPE }] } } : {},
				...FEATURES.map((feature) => feature.capabilities(client)),
			);
			return { capabilities, serverInfo: { name: "lodebook", version: LODEBOOK_VERSION } };
		},
	);
	connection.onInitialized(() => {
		if (session.client.workspace?.configuration) void loadSettings();
	});
	connection.onDidChangeConfiguration(({ settings }) => {
		if (session.client.workspace?.configuration) return loadSettings();
		session.settings = readSettings((settings as { lodebook?: unknown } | undefined)?.lodebook);
	});
	connection.onDidChangeWatchedFiles(({ changes }) => {
		for (const { uri } of changes) session.library.forget(uri);
		session.refresh();
	});
	documents.onDidChangeContent(({ document }) => {
		if (session.dependents(document.uri).length === 0) return;
		session.library.forget(document.uri);
		session.refresh();
	});
	for (const feature of FEATURES) feature.listen(session);
	documents.listen(connection);
	connection.listen();

	async function loadSettings(): Promise<void> {
		try {
			session.settings = readSettings(await connection.workspace.getConfiguration("lodebook"));
			if (session.client.workspace?.inlayHint?.refreshSupport) connection.languages.inlayHint.refresh();
		} catch {
			// A client that says it has settings and gives none: the defaults stay.
		}
	}
}
