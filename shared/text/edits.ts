/** Edits of a text by offsets. */
export interface TextEdit {
	readonly from: number;
	readonly to: number;
	readonly text: string;
}

/** Edits that cannot all be made: two of them want the same characters, or one lies outside of the text. */
export class EditsRefused extends Error {}

/**
 * The text with edits made, in time that grows with its length and their number. Edits at one offset are made in their
 * order, insertions before what is replaced there. Refuses edits that overlap: made all the same, one of them would be
 * lost, or what was written would be neither.
 */
export function applyEdits(text: string, edits: readonly TextEdit[]): string {
	const empty = ({ from, to }: TextEdit): number => (from === to ? 0 : 1);
	// Sorting keeps the order of equals.
	const ordered = [...edits].sort((a, b) => a.from - b.from || empty(a) - empty(b));
	const pieces: string[] = [];
	let done = 0;
	for (const { from, to, text: inserted } of ordered) {
		if (from < done || to < from || to > text.length)
			throw new EditsRefused(`the edit of ${from}–${to} overlaps another, or the text's end`);
		pieces.push(text.slice(done, from), inserted);
		done = to;
	}
	pieces.push(text.slice(done));
	return pieces.join("");
}

/**
 * Edits without those that say again what another says already: a node with an anchor is met once where it stands and
 * again wherever an alias names it. Of two that differ and want the same characters the first is kept.
 */
export function editsOnce<E extends TextEdit>(edits: readonly E[]): readonly E[] {
	const kept: E[] = [];
	const seen = new Set<string>();
	for (const edit of [...edits].sort((a, b) => a.from - b.from || a.to - b.to)) {
		const same = `${edit.from} ${edit.to} ${edit.text}`;
		const before = kept[kept.length - 1];
		if (seen.has(same) || (before && edit.from < before.to)) continue;
		seen.add(same);
		kept.push(edit);
	}
	return kept;
}
