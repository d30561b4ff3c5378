/**
 * Where a plan's text is in what the client has open: a document of its own, or the cells of a notebook. A feature
 * is given a text and works with offsets in the whole plan; `positionAt` and `offsetAt` give and take what the client
 * calls by that text's URI, so for a cell of a notebook they count from the cell.
 */
import type { Position, Range } from "vscode-languageserver";
import { TextDocument } from "vscode-languageserver-textdocument";
import { LANGUAGE } from "../shared/protocol/language.ts";

/** A text with a plan in it: a document of the client's, or a cell of a notebook. */
export type PlanText = Pick<TextDocument, "uri" | "version" | "lineCount" | "getText" | "positionAt" | "offsetAt">;

/** Where a cell's text is in the plan's. */
export interface CellPlace {
	readonly uri: string;
	/** Offsets of what the cell shows. */
	readonly start: number;
	readonly end: number;
	/** Columns before each line that the cell does not show. */
	readonly indent: number;
}

/** A notebook's cells as one plan. */
export class NotebookPlan {
	readonly uri: string;
	readonly text: TextDocument;
	/** The plan as one text, by the notebook's URI. */
	readonly whole: CellText;
	readonly cells: readonly CellText[];

	constructor(uri: string, version: number, text: string, places: readonly CellPlace[]) {
		this.uri = uri;
		this.text = TextDocument.create(uri, LANGUAGE, version, text);
		this.whole = new CellText(this, { uri, start: 0, end: text.length, indent: 0 });
		this.cells = places.map((place) => new CellText(this, place));
	}

	/** The cell an offset belongs to: what is between two cells belongs to the later one. */
	cellAt(offset: number): CellText | undefined {
		let [low, high] = [0, this.cells.length - 1];
		while (low < high) {
			const middle = (low + high) >> 1;
			if (offset <= (this.cells[middle] as CellText).place.end) high = middle;
			else low = middle + 1;
		}
		return this.cells[low];
	}
}

/** One cell of a notebook: the plan's whole text, with positions as the cell has them. */
export class CellText implements PlanText {
	readonly uri: string;
	readonly version: number;
	readonly lineCount: number;
	readonly notebook: NotebookPlan;
	readonly place: CellPlace;
	readonly #first: Position;

	constructor(notebook: NotebookPlan, place: CellPlace) {
		this.uri = place.uri;
		this.notebook = notebook;
		this.place = place;
		this.version = notebook.text.version;
		this.#first = notebook.text.positionAt(place.start);
		this.lineCount = notebook.text.positionAt(place.end).line - this.#first.line + 1;
	}

	getText(range?: Range): string {
		const text = this.notebook.text.getText();
		return range ? text.slice(this.offsetAt(range.start), this.offsetAt(range.end)) : text;
	}

	positionAt(offset: number): Position {
		const { start, end, indent } = this.place;
		const { line, character } = this.notebook.text.positionAt(Math.min(Math.max(offset, start), end));
		const before = indent + (line === this.#first.line ? this.#first.character : 0);
		return { line: line - this.#first.line, character: Math.max(0, character - before) };
	}

	offsetAt({ line, character }: Position): number {
		const { start, end, indent } = this.place;
		const before = indent + (line === 0 ? this.#first.character : 0);
		const offset = this.notebook.text.offsetAt({
			line: this.#first.line + Math.max(0, line),
			character: Math.max(0, character) + before,
		});
		return Math.min(Math.max(offset, start), end);
	}
}

/** The text by whose URI the client knows an offset of the plan: for a notebook the cell there. */
export const homeOf = (text: PlanText, offset: number): PlanText =>
	text instanceof CellText ? (text.notebook.cellAt(offset) ?? text) : text;

/** Whether an offset of the plan is in this text, and not in another cell of the notebook. */
export const isIn = (text: PlanText, offset: number): boolean => homeOf(text, offset) === text;

/** Offsets of the plan that this text spans. */
export const spanOf = (text: PlanText): { readonly from: number; readonly to: number } =>
	text instanceof CellText ? { from: text.place.start, to: text.place.end } : { from: 0, to: text.getText().length };

/** The URI of the file that holds the plan. */
export const planUri = (text: PlanText): string => (text instanceof CellText ? text.notebook.uri : text.uri);

/** A range of the plan where the client has it. */
export function locationOf(text: PlanText, from: number, to: number): { readonly uri: string; readonly range: Range } {
	const home = homeOf(text, from);
	return { uri: home.uri, range: { start: home.positionAt(from), end: home.positionAt(to) } };
}
