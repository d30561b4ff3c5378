/** Files of the workspace: in a browser the server has no other way to them than the client. */
import type { RequestOf } from "./message.ts";

/** The largest file that is read as a plan, in bytes. */
export const LARGEST_PLAN = 5_000_000;

/** What reading another plan's file gives. `outside`: the path, or a link on it, leads out of the workspace. */
export type FileAnswer = { readonly text: string } | { readonly missing: "not-found" | "outside" };

/** Asked by the server of clients that read for it: the text of a plan in the workspace. */
export const READ_FILE: RequestOf<{ readonly uri: string }, FileAnswer> = { method: "lodebook/readFile" };

/** Asked by the server of the same clients: the URIs of the plans below a folder of the workspace, at most so many. */
export const LIST_FILES: RequestOf<{ readonly root: string; readonly most: number }, readonly string[]> = {
	method: "lodebook/listFiles",
};

/** What a client says of itself when it starts the server. */
export interface InitializationOptions {
	/** It answers `READ_FILE` and `LIST_FILES`: it is the extension, and knows the messages of our own. */
	readonly readsFiles?: boolean;
	/** Where the second part of the web worker's script is. */
	readonly secondPart?: string;
}
