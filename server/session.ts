/** What the features share: the open documents and their plans, the client, the settings. */
import {
	type ClientCapabilities,
	type Connection,
	LSPErrorCodes,
	ResponseError,
	type ServerCapabilities,
	type TextDocuments,
} from "vscode-languageserver";
import type { TextDocument } from "vscode-languageserver-textdocument";
import { SETTINGS_FILE } from "../shared/cells/settings/keys.ts";
import { DEEPEST, linksFrom } from "../shared/plan/reuse.ts";
import { sentences, told } from "../shared/text/sentence.ts";
import { type ReadFile, WorkspaceLibrary } from "./library.ts";
import { Notebooks } from "./notebooks.ts";
import { PlanDocument } from "./plan-document.ts";
import { type ListFiles, PlanIndex } from "./plan-index.ts";
import { CellText, type NotebookPlan, type PlanText, planUri } from "./plan-text.ts";
import { DEFAULT_SETTINGS, type Settings } from "./settings.ts";

/** What is loaded on first use. */
export type OnRequest = typeof import("./on-request.ts");

const words = sentences("session", {
	notLoaded: "A part of Lodebook could not be loaded: {why}. Try again; if that does not help, reload the editor.",
});

export class Session {
	readonly connection: Connection;
	readonly documents: TextDocuments<TextDocument>;
	readonly notebooks = new Notebooks();
	readonly library: WorkspaceLibrary;
	readonly index: PlanIndex;
	client: ClientCapabilities = {};
	/** The client is the extension, and knows the messages of our own. */
	ownClient = false;
	settings: Settings = DEFAULT_SETTINGS;
	readonly #plans = new Map<string, PlanDocument>();
	readonly #refreshed: (() => void)[] = [];
	readonly #indexed: (() => void)[] = [];
	readonly #notebookChanged: ((now: NotebookPlan | undefined, before: NotebookPlan | undefined) => void)[] = [];

	constructor(
		connection: Connection,
		documents: TextDocuments<TextDocument>,
		files: { readonly readFile: ReadFile; readonly listFiles: ListFiles },
	) {
		this.connection = connection;
		this.documents = documents;
		this.library = new WorkspaceLibrary(
			files.readFile,
			(uri) => documents.get(uri) ?? this.notebooks.plan(uri)?.text,
			() => this.refresh(),
		);
		this.index = new PlanIndex(
			this.library,
			files,
			() => this.texts(),
			() => this.refreshIndexed(),
		);
		// The same version of a document that was closed, or opened twice, may be another text.
		documents.onDidOpen(({ document }) => void this.#plans.delete(document.uri));
		documents.onDidClose(({ document: { uri } }) => {
			this.#plans.delete(uri);
			const taking = this.dependents(uri).length > 0;
			this.library.forget(uri);
			if (taking) this.refresh();
		});
		this.notebooks.listen(connection, (now, before) => {
			const uri = (now ?? before)?.uri ?? "";
			if (!now) this.#plans.delete(notebookKey(uri));
			if (!now || this.dependents(uri).length > 0) {
				this.library.forget(uri);
				this.refresh();
			}
			for (const changed of this.#notebookChanged) changed(now, before);
		});
	}

	/** What the client calls by a URI: a document, a cell of a notebook, or a notebook as a whole. */
	text(uri: string): PlanText | undefined {
		return this.documents.get(uri) ?? this.notebooks.cell(uri) ?? this.notebooks.plan(uri)?.whole;
	}

	/** All that is open, each plan once. */
	texts(): readonly PlanText[] {
		return [...this.documents.all(), ...this.notebooks.all().map(({ whole }) => whole)];
	}

	plan(text: PlanText): PlanDocument {
		// The same file may be open as text and as a notebook, and differ.
		const key = text instanceof CellText ? notebookKey(planUri(text)) : text.uri;
		let plan = this.#plans.get(key);
		if (!plan) {
			plan = new PlanDocument(this.library);
			this.#plans.set(key, plan);
		}
		return plan;
	}

	/** Told of each notebook's new cells beside those before; without new ones it was closed. */
	onNotebookChange(changed: (now: NotebookPlan | undefined, before: NotebookPlan | undefined) => void): void {
		this.#notebookChanged.push(changed);
	}

	/** Open plans that took from another file when something was last asked of them, or for which its settings hold. */
	dependents(uri: string): readonly PlanText[] {
		return this.texts().filter(
			(text) =>
				planUri(text) !== uri &&
				(this.library.uriOf(planUri(text), SETTINGS_FILE) === uri || this.#takesFrom(text, uri)),
		);
	}

	#takesFrom(text: PlanText, uri: string): boolean {
		return this.plan(text).tookFrom.some((link) =>
			[...linksFrom(link)].some(({ path }) => this.library.uriOf(planUri(text), path) === uri),
		);
	}

	/** Something that plans take from has changed: features that push, or ask the client to pull, do so. */
	refresh(): void {
		for (const refreshed of this.#refreshed) refreshed();
	}

	onRefresh(refreshed: () => void): void {
		this.#refreshed.push(refreshed);
	}

	/** The index of plans knows more than it did. */
	refreshIndexed(): void {
		for (const indexed of this.#indexed) indexed();
	}

	onIndexed(indexed: () => void): void {
		this.#indexed.push(indexed);
	}

	/** Runs what makes a client ask anew for texts that an edit elsewhere changed, once the typing rests. */
	onElsewhereChange(refresh: () => void): void {
		let waiting: ReturnType<typeof setTimeout> | undefined;
		const later = (): void => {
			clearTimeout(waiting);
			waiting = setTimeout(refresh, REST_MS);
		};
		this.onRefresh(later);
		this.onNotebookChange((now) => {
			if (now) later();
		});
	}

	/** Asks the client to ask anew; one that says it can, and refuses, is left in peace. */
	askAgain(request: () => Promise<unknown>): void {
		void request().catch(() => {});
	}

	/** Runs one request once the plans have been read that it takes from: those of a document just opened have not. */
	async guardedWhenRead<T>(
		what: string,
		uri: string,
		answer: (document: PlanText, plan: PlanDocument) => T,
	): Promise<T | null> {
		// A plan that comes may take from another one.
		for (let step = 0; step <= DEEPEST; step++) {
			this.guarded(what, uri, (document, plan) => plan.evaluation(document));
			if (!(await Promise.race([this.library.read(), rested(READING_MS)]))) break;
		}
		return this.guarded(what, uri, answer);
	}

	/** Runs one request with what is loaded on first use. */
	async answered<T>(
		what: string,
		uri: string,
		answer: (document: PlanText, plan: PlanDocument, made: OnRequest) => T,
	): Promise<T | null> {
		const made = await this.onRequest();
		return this.guarded(what, uri, (document, plan) => answer(document, plan, made));
	}

	/** What is loaded on first use. */
	onRequest(): Promise<OnRequest> {
		return this.loaded(() => import("./on-request.ts"));
	}

	/** A module that is loaded on first use. Where that fails the request is answered by why, and the next one tries again. */
	async loaded<T>(load: () => Promise<T>): Promise<T> {
		try {
			return await load();
		} catch (error) {
			const why = told(words.notLoaded({ why: error instanceof Error ? error.message : String(error) }));
			this.connection.console.error(why);
			throw new ResponseError(LSPErrorCodes.RequestFailed, why);
		}
	}

	/** Runs one request: an error answers it with nothing, is logged, and leaves the server up. */
	guarded<T>(what: string, uri: string, answer: (document: PlanText, plan: PlanDocument) => T): T | null {
		const text = this.text(uri);
		if (!text) return null;
		try {
			return answer(text, this.plan(text));
		} catch (error) {
			this.connection.console.error(
				`${what}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`,
			);
			return null;
		}
	}
}

const REST_MS = 150;
/** A file that takes longer than this is not waited for. */
const READING_MS = 2000;

const rested = (ms: number): Promise<false> =>
	new Promise((resolve) => {
		setTimeout(() => resolve(false), ms);
	});

const notebookKey = (uri: string): string => `notebook ${uri}`;

/** A language feature: what it tells the client, and how it answers. */
export interface Feature {
	/** Written as a literal, or with its type, so that a misspelt one does not compile. */
	readonly capabilities: ServerCapabilities | ((client: ClientCapabilities) => ServerCapabilities);
	readonly listen: (session: Session) => void;
}
