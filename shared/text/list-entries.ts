/**
 * A slice that holds one block list under one key, cut into its entries, each of whole lines, so that an edit leaves the
 * text of all others as it was:
 *
 *     ---
 *     targets:              the head
 *       - name: core        an entry
 *         frames: 2
 *     # a comment           still that entry's
 *       - name: Antares     another one
 *
 * Only what is plain enough to be cut without a parser is cut; whether an entry can be read alone is then seen from the
 * entry itself (`isAlone`, and that a parser finds nothing wrong with it).
 */
import type { Slice } from "./stream.ts";

export interface EntryList {
	/** The word before the colon. */
	readonly key: string;
	/** Offset of the key. */
	readonly start: number;
	readonly entries: readonly Slice[];
}

const MARKER_LINE = /^---[ ]*(?: #.*)?\r?$/;
const KEY_LINE = /^([a-z]+):[ ]*(?: #.*)?\r?$/;

/** Undefined for a slice that is anything else, or might be. */
export function cutEntries(text: string): EntryList | undefined {
	// Tabs and byte order marks are white space for some, and a CR alone is a line break for some.
	if (text.includes("\t") || text.includes("\uFEFF") || /\r(?!\n)/.test(text)) return undefined;
	let key: string | undefined;
	let start = 0;
	let indent = -1;
	const cuts: number[] = [];
	for (let at = 0, end = 0; at < text.length; at = end) {
		const feed = text.indexOf("\n", at);
		end = feed === -1 ? text.length : feed + 1;
		let first = at;
		while (text.charCodeAt(first) === SPACE) first++;
		const code = text.charCodeAt(first);
		if (first >= end || code === FEED || code === RETURN || code === HASH) continue;
		const columns = first - at;
		if (cuts.length > 0 && columns > indent) continue;
		if (code === DASH && key !== undefined && isBlank(text.charCodeAt(first + 1))) {
			if (cuts.length > 0 && columns !== indent) return undefined;
			indent = columns;
			cuts.push(at);
			continue;
		}
		if (cuts.length > 0 || key !== undefined) return undefined;
		const line = text.slice(at, end).replace(/\n$/, "");
		if (at === 0 && MARKER_LINE.test(line)) continue;
		key = KEY_LINE.exec(line)?.[1];
		if (key === undefined) return undefined;
		start = at;
	}
	if (key === undefined || cuts.length === 0) return undefined;
	const entries = cuts.map((from, i) => ({ start: from, text: text.slice(from, cuts[i + 1] ?? text.length) }));
	return { key, start, entries };
}

const [SPACE, FEED, RETURN, HASH, DASH] = [32, 10, 13, 35, 45];
const isBlank = (code: number): boolean => code === SPACE || code === FEED || code === RETURN || Number.isNaN(code);

/** Whether nothing in an entry can mean something outside of it, or be given its meaning there: anchors, aliases, tags. */
export const isAlone = (entry: string): boolean => !/(?:^|[\s[\]{},:?-])(?:[&*][^\s]|!)/.test(entry);
