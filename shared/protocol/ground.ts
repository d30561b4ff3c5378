/**
 * A skyline from elevation tiles. The extension asks a server that it starts for this alone, and ends it to stop; what
 * was found is written by the one that has the plan.
 */
import type { WorkspaceEdit } from "vscode-languageserver-types";
import type { RequestOf } from "./message.ts";

/** What tiles, by their names, tell of the spot of the plan that is open in that server. */
export const SURVEY_GROUND: RequestOf<
	{ readonly uri: string; readonly tiles: readonly string[] },
	GroundAnswer | null
> = {
	method: "lodebook/surveyGround",
};

export type GroundAnswer =
	| {
			readonly found: FoundGround;
			/** Why it should not be written before somebody has said so. */
			readonly doubts: readonly string[];
			/** What should be known beside. */
			readonly notes: readonly string[];
	  }
	| { readonly problem: string };

/** A skyline, and where it is from. */
export interface FoundGround {
	/** True bearing and altitude, degrees. */
	readonly points: readonly (readonly [bearing: number, altitude: number])[];
	readonly comments: readonly string[];
	/** The ground at the spot, metres, where the plan has no elevation. */
	readonly elevation: number | null;
}

/** Asked by that server when it is a tile's turn: the file's bytes in base64, or why it cannot be read. */
export const TILE: RequestOf<{ readonly index: number }, { readonly bytes: string } | { readonly problem: string }> = {
	method: "lodebook/tile",
};

/** The largest tile, bytes. */
export const LARGEST_TILE = 200_000_000;

/** The edit that puts a skyline into the plan's site in place of the one that is there, or why it cannot be made. */
export const WRITE_GROUND: RequestOf<
	{ readonly uri: string; readonly found: FoundGround },
	{ readonly edit: WorkspaceEdit | null; readonly problem: string } | null
> = { method: "lodebook/writeGround" };
