/** The language server, whatever carries its messages. */
import { type Connection, type InitializeParams, type InitializeResult, TextDocumentSyncKind, TextDocuments } from "vscode-languageserver";
import { TextDocument } from "vscode-languageserver-textdocument";
import { FEATURES } from "./features/features.ts";
import { Session } from "./session.ts";

declare const LODEBOOK_VERSION: string;

export function start(connection: Connection): void {
	const documents = new TextDocuments(TextDocument);
	const session = new Session(connection, documents);
	connection.onInitialize(({ capabilities: client }: InitializeParams): InitializeResult => {
		session.client = client;
		const capabilities = Object.assign(
			{ textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental } },
			...FEATURES.map((feature) => feature.capabilities(client)),
		);
		return { capabilities, serverInfo: { name: "lodebook", version: LODEBOOK_VERSION } };
	});
	for (const feature of FEATURES) feature.listen(session);
	documents.listen(connection);
	connection.listen();
}
