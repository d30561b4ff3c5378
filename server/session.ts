/** What the features share: the open documents and their plans. */
import type { ClientCapabilities, Connection, TextDocuments } from "vscode-languageserver";
import type { TextDocument } from "vscode-languageserver-textdocument";
import { PlanDocument } from "./plan-document.ts";

export class Session {
	readonly connection: Connection;
	readonly documents: TextDocuments<TextDocument>;
	client: ClientCapabilities = {};
	readonly #plans = new Map<string, PlanDocument>();

	constructor(connection: Connection, documents: TextDocuments<TextDocument>) {
		this.connection = connection;
		this.documents = documents;
		documents.onDidClose(({ document }) => this.#plans.delete(document.uri));
	}

	plan(document: TextDocument): PlanDocument {
		let plan = this.#plans.get(document.uri);
		if (!plan) {
			plan = new PlanDocument();
			this.#plans.set(document.uri, plan);
		}
		return plan;
	}

	/** Runs one request: an error answers it with nothing, is logged, and leaves the server up. */
	guarded<T>(what: string, uri: string, answer: (document: TextDocument, plan: PlanDocument) => T): T | null {
		const document = this.documents.get(uri);
		if (!document) return null;
		try {
			return answer(document, this.plan(document));
		} catch (error) {
			this.connection.console.error(`${what}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`);
			return null;
		}
	}
}

/** A language feature: what it tells the client, and how it answers. */
export interface Feature {
	readonly capabilities: (client: ClientCapabilities) => object;
	readonly listen: (session: Session) => void;
}
