/** Files of the workspace: in a browser the server has no other way to them than the client. */
import type { RequestOf } from "./message.ts";

/** Asked by the server of clients that read for it: the text of a plan in the workspace; null where there is none. */
export const READ_FILE: RequestOf<{ readonly uri: string }, string | null> = { method: "lodebook/readFile" };

/** What a client says of itself when it starts the server. */
export interface InitializationOptions {
	/** It answers `READ_FILE`: it is the extension, and knows the messages of our own. */
	readonly readsFiles?: boolean;
}
