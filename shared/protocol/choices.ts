/** What the extension's commands ask for: marks of methods and nights to choose from. */
import type { WorkspaceEdit } from "vscode-languageserver-types";
import type { RequestOf } from "./message.ts";

/** What the method at a line can be pointed at, the best first; elsewhere the plan's first method that has a mark. */
export const MARKS: RequestOf<{ readonly uri: string; readonly line: number }, MarksAnswer | null> = {
	method: "lodebook/marks",
};

export interface MarksAnswer {
	readonly choices: readonly MarkChoice[];
	/** Why there is nothing to choose; empty when there is. */
	readonly problem: string;
}

export interface MarkChoice {
	readonly label: string;
	readonly detail: string;
	readonly edit: WorkspaceEdit;
}

/** Nights from a date on (the plan's own where none is given): the best of each new-moon week first, then the others. */
export const NIGHTS: RequestOf<
	{
		readonly uri: string;
		readonly from?: string;
		readonly days?: number;
		/** One of those that an answer offered: only the time in which it holds counts. */
		readonly framing?: string;
	},
	NightsAnswer | null
> = { method: "lodebook/nights" };

export interface NightsAnswer {
	readonly choices: readonly {
		readonly label: string;
		readonly description: string;
		readonly detail: string;
		/** For `WRITE_NIGHT`. */
		readonly date: string;
	}[];
	/** The same of the date that the plan has; empty where it has none. */
	readonly present: string;
	/** How a target could be wanted in its frame. */
	readonly framings: readonly { readonly label: string; readonly framing: string }[];
	/** Why nothing could be searched; empty when it could. */
	readonly problem: string;
}

/** The nights of a year from a date on as a picture, with the same words as the choices; or why there is none. */
export const YEAR_OF_NIGHTS: RequestOf<{ readonly uri: string; readonly from: string }, YearAnswer | null> = {
	method: "lodebook/yearOfNights",
};

export interface YearAnswer {
	/** Each night that can be chosen has its date for `WRITE_NIGHT` in `data-night`. */
	readonly html: string;
	readonly problem: string;
}

/** The edit that puts an evening into the plan, or why it cannot be written: what it writes has no new error or warning. */
export const WRITE_NIGHT: RequestOf<{ readonly uri: string; readonly date: string }, WrittenNight | null> = {
	method: "lodebook/writeNight",
};

export interface WrittenNight {
	readonly edit: WorkspaceEdit | null;
	/** Why it cannot be written; empty when it can. */
	readonly problem: string;
}

/** The edit that writes the evening's placed times into the plan, or why it cannot be made. */
export const WRITE_EVENING: RequestOf<
	{ readonly uri: string },
	{ readonly edit: WorkspaceEdit | null; readonly problem: string } | null
> = { method: "lodebook/writeEvening" };
