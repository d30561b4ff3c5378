/** What the features share: the open documents and their plans, the client, the settings. */
import type { ClientCapabilities, Connection, TextDocuments } from "vscode-languageserver";
import type { TextDocument } from "vscode-languageserver-textdocument";
import { type ReadFile, WorkspaceLibrary } from "./library.ts";
import { PlanDocument } from "./plan-document.ts";
import { DEFAULT_SETTINGS, type Settings } from "./settings.ts";

export class Session {
	readonly connection: Connection;
	readonly documents: TextDocuments<TextDocument>;
	readonly library: WorkspaceLibrary;
	client: ClientCapabilities = {};
	settings: Settings = DEFAULT_SETTINGS;
	readonly #plans = new Map<string, PlanDocument>();
	readonly #refreshed: (() => void)[] = [];

	constructor(connection: Connection, documents: TextDocuments<TextDocument>, readFile: ReadFile) {
		this.connection = connection;
		this.documents = documents;
		this.library = new WorkspaceLibrary(
			readFile,
			(uri) => documents.get(uri),
			() => this.refresh(),
		);
		documents.onDidClose(({ document }) => {
			this.#plans.delete(document.uri);
			this.library.forget(document.uri);
		});
	}

	plan(document: TextDocument): PlanDocument {
		let plan = this.#plans.get(document.uri);
		if (!plan) {
			plan = new PlanDocument(this.library);
			this.#plans.set(document.uri, plan);
		}
		return plan;
	}

	/** Open plans that take from another file. */
	dependents(uri: string): readonly TextDocument[] {
		return this.documents
			.all()
			.filter((document) => document.uri !== uri && this.plan(document).takesFrom.some(({ path }) => this.library.uriOf(document.uri, path) === uri));
	}

	/** Something that plans take from has changed: features that push, or ask the client to pull, do so. */
	refresh(): void {
		for (const refreshed of this.#refreshed) refreshed();
	}

	onRefresh(refreshed: () => void): void {
		this.#refreshed.push(refreshed);
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
