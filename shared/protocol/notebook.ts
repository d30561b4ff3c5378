/** What a notebook asks for. */
import type { RequestOf } from "./message.ts";

/** What follows from each cell of an open notebook; null where it is not open. */
export const CELL_OUTPUTS: RequestOf<{ readonly uri: string }, readonly CellOutput[] | null> = {
	method: "lodebook/cellOutputs",
};

export interface CellOutput {
	/** The cell's document. */
	readonly uri: string;
	readonly html: string;
	readonly markdown: string;
	readonly text: string;
}

/** Kinds of cells that can be added to an open notebook; null where it is not open. */
export const KINDS_TO_ADD: RequestOf<{ readonly uri: string }, readonly CellKindChoice[] | null> = {
	method: "lodebook/cellKinds",
};

export interface CellKindChoice {
	readonly label: string;
	readonly description: string;
	readonly detail: string;
	readonly text: string;
}

/** The extension's own renderer of what follows from a cell; package.json says the same. */
export const CELL_RENDERER = "lodebook-cells";
/** The type of the data that it draws. */
export const CELL_DATA = "application/vnd.lodebook.cell+json";

/** What the renderer shows: as an output's data, and as the message that replaces it. */
export interface ShownCell {
	/** The cell's document. */
	readonly cell: string;
	/** Counts what was shown of any cell: of two, the later has the higher. */
	readonly stamp: number;
	readonly html: string;
}

/** From the renderer: an output was drawn, from the data that it has, or is not there any more. */
export interface DrawnCell {
	readonly type: "drawn" | "gone";
	readonly cell: string;
	readonly stamp: number;
	/** The output, by its id in the page. */
	readonly output: string;
}
