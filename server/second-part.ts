/** Where the web worker's second part is. */

/** The address that the client gave, where it is that of the second part; else an error says what it is instead. */
export function secondPartUrl(given: unknown): string {
	if (typeof given !== "string") throw new Error("the editor did not say where its second part is");
	if (!SECOND_PART.test(given))
		throw new Error(`its second part is dist/server.later.js of the extension, not ${given.slice(0, LONGEST_SHOWN)}`);
	return given;
}

/** As extensions are given theirs; with nothing behind the name that could lead elsewhere. */
const SECOND_PART = /^[a-z][a-z\d+.-]*:\/\/[^?#\\\s]*\/dist\/server\.later\.js$/i;

const LONGEST_SHOWN = 200;
