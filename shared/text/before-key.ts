/** Where a further key can be put in front of a key of a mapping, and what parts the two. */
export interface BeforeKey {
	/** Undefined where nothing can be put: the key has an anchor, a tag or a question mark in front of it. */
	readonly insertAt: number | undefined;
	/** Indentation of the key that comes to stand on a line of its own; undefined in a flow mapping. */
	readonly indent: string | undefined;
}

export function beforeKey(text: string, from: number, flow: boolean): BeforeKey {
	const lineStart = text.lastIndexOf("\n", from - 1) + 1;
	const before = text.slice(lineStart, from);
	if (flow) {
		// What opens the mapping, or parts its entries, may stand on a line above.
		const last = text.slice(0, from).trimEnd().slice(-1);
		return { insertAt: last === "{" || last === "," ? from : undefined, indent: undefined };
	}
	if (!/^\uFEFF?[ ]*(?:-[ \t]+)*$/.test(before)) return { insertAt: undefined, indent: undefined };
	return { insertAt: from, indent: before.replace(/[^\t]/g, " ") };
}

/** The text of an entry that is put there. */
export const entryText = (entry: string, indent: string | undefined, lineBreak: string): string =>
	indent === undefined ? `${entry}, ` : `${entry}${lineBreak}${indent}`;
