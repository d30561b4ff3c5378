/** Edits of a text by offsets. */
export interface TextEdit {
	readonly from: number;
	readonly to: number;
	readonly text: string;
}

/** The text with edits made; they must not overlap. Edits at one offset are made in their order. */
export function applyEdits(text: string, edits: readonly TextEdit[]): string {
	const ordered = [...edits]
		.map((edit, index) => ({ ...edit, index }))
		.sort((a, b) => b.from - a.from || b.index - a.index);
	return ordered.reduce(
		(result, { from, to, text: inserted }) => result.slice(0, from) + inserted + result.slice(to),
		text,
	);
}
