/** Plans opened as text and as notebooks, in one server. */
import { readdirSync, readFileSync } from "node:fs";
import type { Diagnostic, Position, Range } from "vscode-languageserver";
import { TextDocument } from "vscode-languageserver-textdocument";
import { type Notebook, notebookOf, textOfNotebook } from "../../shared/plan/notebook.ts";
import { told } from "../../shared/text/sentence.ts";
import type { TestClient } from "./client.ts";

const folder = new URL("../../samples/", import.meta.url);
export const SAMPLES = readdirSync(folder).filter((name) => name.endsWith(".lode.yaml"));
export const sampleText = (name: string): string => readFileSync(new URL(name, folder), "utf8");

export const TYPE = "lodebook-plan";

let count = 0;

/** A plan opened as text and as a notebook, and the way from the one's places to the other's. */
export class Opened {
	readonly uri: string;
	readonly plain = `file:///notebooks/${++count}-plain.lode.yaml`;
	readonly notebook: Notebook;
	readonly text: TextDocument;
	readonly places: ReturnType<typeof textOfNotebook>["places"];
	#version = 1;

	readonly #client: TestClient;

	constructor(client: TestClient, text: string, notebook: Notebook, uri = `file:///notebooks/${count + 1}.lode.yaml`) {
		this.uri = uri;
		this.#client = client;
		this.notebook = notebook;
		this.text = TextDocument.create(this.plain, "lodebook", 1, text);
		this.places = textOfNotebook(notebook.cells, notebook).places;
	}

	/** `uri`: of the file, where others take from it. */
	static async open(client: TestClient, text: string, withMetadata = true, uri?: string): Promise<Opened> {
		const outcome = notebookOf(text);
		if (!outcome.ok) throw new Error(told(outcome.why));
		const opened = new Opened(client, text, outcome.notebook, uri);
		await client.open(opened.plain, text);
		const { cells, mark, lineEnd } = outcome.notebook;
		await client.connection.sendNotification("notebookDocument/didOpen", {
			notebookDocument: {
				uri: opened.uri,
				notebookType: TYPE,
				version: 1,
				metadata: withMetadata ? { mark, lineEnd } : {},
				cells: cells.map(({ kind, kept }, i) => ({
					kind: kind === "note" ? 1 : 2,
					document: opened.cell(i),
					...(withMetadata ? { metadata: { kept } } : {}),
				})),
			},
			cellTextDocuments: cells.map(({ kind, shown }, i) => ({
				uri: opened.cell(i),
				languageId: kind === "note" ? "markdown" : "lodebook",
				version: 1,
				text: shown,
			})),
		});
		return opened;
	}

	cell = (i: number): string => `vscode-notebook-cell:/notebooks/${this.uri.split("/").pop()}#C${i}`;

	/** The place of an offset of the text in a cell. */
	inCell(offset: number): { readonly uri: string; readonly position: Position } | undefined {
		const i = this.places.findIndex(({ start, end }) => start <= offset && offset <= end);
		const place = this.places[i];
		if (!place || this.notebook.cells[i]?.kind === "note") return undefined;
		const [first, at] = [this.text.positionAt(place.start), this.text.positionAt(offset)];
		return { uri: this.cell(i), position: { line: at.line - first.line, character: at.character } };
	}

	/** A range of a cell in the text. */
	inText(uri: string, range: Range): Range {
		const place = this.places[Number(uri.split("#C")[1])];
		const line = this.text.positionAt(place?.start ?? 0).line;
		return {
			start: { ...range.start, line: range.start.line + line },
			end: { ...range.end, line: range.end.line + line },
		};
	}

	type = (i: number, range: Range, text: string): Promise<void> => this.typeIn(this.cell(i), range, text);

	async typeIn(uri: string, range: Range, text: string): Promise<void> {
		this.#version++;
		await this.#client.connection.sendNotification("notebookDocument/didChange", {
			notebookDocument: { uri: this.uri, version: this.#version },
			change: { cells: { textContent: [{ document: { uri, version: this.#version }, changes: [{ range, text }] }] } },
		});
	}

	/** Takes cells away and puts others there; gives the URIs of these. */
	async structure(
		start: number,
		deleteCount: number,
		cells: readonly string[] = [],
		{ kind, languageId } = { kind: 2, languageId: "lodebook" },
	): Promise<readonly string[]> {
		this.#version++;
		const added = cells.map((text, i) => ({ text, uri: `${this.cell(100 + start)}-${this.#version}-${i}` }));
		await this.#client.connection.sendNotification("notebookDocument/didChange", {
			notebookDocument: { uri: this.uri, version: this.#version },
			change: {
				cells: {
					structure: {
						array: { start, deleteCount, cells: added.map(({ uri }) => ({ kind, document: uri })) },
						didOpen: added.map(({ uri, text }) => ({ uri, languageId, version: 1, text })),
						didClose: [],
					},
				},
			},
		});
		return added.map(({ uri }) => uri);
	}

	/** Puts a note there without a text; gives its URI. */
	note = async (start: number): Promise<string> =>
		String((await this.structure(start, 0, [""], { kind: 1, languageId: "markdown" }))[0]);

	async close(): Promise<void> {
		await this.#client.connection.sendNotification("notebookDocument/didClose", {
			notebookDocument: { uri: this.uri },
			cellTextDocuments: this.notebook.cells.map((_, i) => ({ uri: this.cell(i) })),
		});
	}
}

/** All that was pushed for a notebook's cells so far: a request is answered after what was sent before it. */
export async function pushed(
	client: TestClient,
	opened: Opened,
): Promise<readonly (readonly [string, readonly Diagnostic[]])[]> {
	await client.request("lodebook/pageStyle", {});
	return opened.notebook.cells.map((_, i) => [opened.cell(i), client.pushed(opened.cell(i))] as const);
}
