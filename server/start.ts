/** The language server, whatever carries its messages. */
import {
	type Connection,
	DidChangeWatchedFilesNotification,
	type InitializeParams,
	type InitializeResult,
	type ServerCapabilities,
	TextDocumentSyncKind,
	TextDocuments,
} from "vscode-languageserver";
import { TextDocument } from "vscode-languageserver-textdocument";
import { type InitializationOptions, LIST_FILES, READ_FILE } from "../shared/protocol/files.ts";
import { LANGUAGE, NOTEBOOK_TYPE, PLAN_ENDING } from "../shared/protocol/language.ts";
import { ask } from "../shared/protocol/message.ts";
import { FEATURES } from "./features/features.ts";
import type { ReadFile } from "./library.ts";
import type { ListFiles } from "./plan-index.ts";
import { Session } from "./session.ts";
import { readSettings } from "./settings.ts";

declare const LODEBOOK_VERSION: string;

/** What a transport adds. */
export interface Surroundings {
	/** For clients that do neither for the server. */
	readonly readOwnFile?: ReadFile;
	readonly listOwnFiles?: ListFiles;
	/** Told what the client says of itself. */
	readonly hear?: (options: InitializationOptions) => void;
}

export function start(connection: Connection, { readOwnFile, listOwnFiles, hear }: Surroundings): void {
	const documents = new TextDocuments(TextDocument);
	let clientReads = false;
	const readFile: ReadFile = async (uri, root) =>
		clientReads ? ask(connection, READ_FILE, { uri }) : (readOwnFile?.(uri, root) ?? { missing: "not-found" });
	const listFiles: ListFiles = async (root, most) =>
		clientReads ? ask(connection, LIST_FILES, { root, most }) : (listOwnFiles?.(root, most) ?? []);
	const session = new Session(connection, documents, { readFile, listFiles });
	connection.onInitialize(
		({
			capabilities: client,
			workspaceFolders,
			rootUri,
			initializationOptions,
		}: InitializeParams): InitializeResult => {
			session.client = client;
			const options: InitializationOptions = initializationOptions ?? {};
			clientReads = session.ownClient = options.readsFiles === true;
			hear?.(options);
			const folders = workspaceFolders?.map(({ uri }) => uri) ?? (rootUri ? [rootUri] : []);
			session.library.roots = folders.map((uri) => uri.replace(/\/+$/, ""));
			const capabilities: ServerCapabilities = Object.assign(
				{ textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental } },
				client.notebookDocument ? { notebookDocumentSync: { notebookSelector: [{ notebook: NOTEBOOK_TYPE }] } } : {},
				...FEATURES.map(({ capabilities: told }) => (typeof told === "function" ? told(client) : told)),
			);
			return { capabilities, serverInfo: { name: "lodebook", version: LODEBOOK_VERSION } };
		},
	);
	connection.onInitialized(() => {
		if (session.client.workspace?.configuration) void loadSettings();
		// The extension watches by itself.
		if (session.client.workspace?.didChangeWatchedFiles?.dynamicRegistration && !session.ownClient)
			session.askAgain(() =>
				connection.client.register(DidChangeWatchedFilesNotification.type, {
					watchers: [{ globPattern: `**/*${PLAN_ENDING}` }],
				}),
			);
	});
	connection.onDidChangeConfiguration(({ settings }) => {
		if (session.client.workspace?.configuration) void loadSettings();
		else session.settings = readSettings((settings as { [LANGUAGE]?: unknown } | undefined)?.[LANGUAGE]);
	});
	connection.onDidChangeWatchedFiles(({ changes }) => {
		for (const { uri } of changes) {
			session.library.forget(uri);
			void session.index.fileChanged(uri);
		}
		session.refresh();
	});
	documents.onDidChangeContent(({ document }) => {
		// Opened, it may be another text than what was read from the disk.
		if (session.dependents(document.uri).length === 0) return;
		session.library.forget(document.uri);
		session.refresh();
	});
	for (const feature of FEATURES) feature.listen(session);
	documents.listen(connection);
	connection.listen();

	async function loadSettings(): Promise<void> {
		try {
			session.settings = readSettings(await connection.workspace.getConfiguration(LANGUAGE));
			if (session.client.workspace?.inlayHint?.refreshSupport)
				session.askAgain(() => connection.languages.inlayHint.refresh());
		} catch {
			// A client that says it has settings and gives none: the defaults stay.
		}
	}
}
