/** What the extension's commands ask for: guide stars and nights to choose from, and the text of a new plan. */
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

/** Nights from a date on (the plan's own where none is given), the best first. */
export const NIGHTS: RequestOf<
	{ readonly uri: string; readonly from?: string; readonly days?: number },
	NightsAnswer | null
> = { method: "lodebook/nights" };

export interface NightsAnswer {
	readonly choices: readonly {
		readonly label: string;
		readonly description: string;
		readonly detail: string;
		readonly edit: WorkspaceEdit;
	}[];
	/** Why nothing could be searched; empty when it could. */
	readonly problem: string;
}

/** The text of a plan for there and then; null where latitude, longitude or date cannot be read. */
export const NEW_PLAN: RequestOf<
	{
		readonly title: string;
		readonly site: string;
		readonly latitude: string;
		readonly longitude: string;
		readonly date: string;
	},
	string | null
> = { method: "lodebook/newPlan" };
