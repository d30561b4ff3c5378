/** What the extension's commands ask for: guide stars and nights to choose from. */
import type { WorkspaceEdit } from "vscode-languageserver-types";
import type { RequestOf } from "./message.ts";

/** Guide stars of the method at a line, else of the first that uses one, the best first. */
export const GUIDE_STARS: RequestOf<{ readonly uri: string; readonly line: number }, readonly StarChoice[] | null> = {
	method: "lodebook/guideStars",
};

export interface StarChoice {
	readonly label: string;
	readonly detail: string;
	readonly edit: WorkspaceEdit;
}

/** Nights from a date on (the plan's own where none is given): the best of each new-moon week first, then the others. */
export const NIGHTS: RequestOf<
	{ readonly uri: string; readonly from?: string; readonly days?: number },
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
	/** Why nothing could be searched; empty when it could. */
	readonly problem: string;
}

/** The edit that puts an evening into the plan, or why it cannot be written: what it writes has no new error or warning. */
export const WRITE_NIGHT: RequestOf<
	{ readonly uri: string; readonly date: string },
	{ readonly edit: WorkspaceEdit | null; readonly problem: string } | null
> = { method: "lodebook/writeNight" };
