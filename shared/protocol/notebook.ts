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
