/**
 * A plan's text cut into the slices of its YAML documents. Slices are exact: joined, they are the text again.
 *
 * In YAML a line that starts with `---` or `...` and then ends or goes on with white space is a document marker
 * wherever it stands, inside quotes and block scalars too (YAML 1.2.2, 9.1.2, c-forbidden), so the cut needs no
 * parser, and an edit in one document leaves the slices of the others as they were.
 */
export interface Slice {
	/** Offset of the slice in the text. */
	readonly start: number;
	readonly text: string;
}

// What follows is told by what it is not: `$` would also stand before U+2028, which YAML takes for text.
const MARKER = /^(?:---|\.\.\.)(?![^ \t\r\n])/gm;

/** Cuts `text` at its document markers. At least one slice comes back, empty for an empty text. */
export function sliceStream(text: string): readonly Slice[] {
	const cuts: number[] = [0];
	/** Whether the slice so far holds a document, not only comments, directives and blank lines. */
	let begun = false;
	let from = 0;
	MARKER.lastIndex = 0;
	for (let match = MARKER.exec(text); match; match = MARKER.exec(text)) {
		const at = match.index;
		// `m` also counts CR alone, U+2028 and U+2029 as line breaks; the reader of the documents does not.
		if (at > 0 && text[at - 1] !== "\n") continue;
		if (match[0] === "---") {
			if (begun || holdsContent(text, from, at)) cuts.push(at);
			begun = true;
			from = at + 3;
		} else {
			const end = lineEnd(text, at);
			if (end < text.length) cuts.push(end);
			begun = false;
			from = end;
		}
	}
	// What follows the last `...` is a slice of its own only if it holds a document.
	const last = cuts[cuts.length - 1] as number;
	if (cuts.length > 1 && !begun && from === last && !holdsContent(text, last, text.length)) cuts.pop();
	return cuts.map((start, i) => ({ start, text: text.slice(start, cuts[i + 1] ?? text.length) }));
}

/** Whether anything but blank lines, comments and directives stands between two offsets. */
function holdsContent(text: string, from: number, until: number): boolean {
	for (let at = from; at < until; at = lineEnd(text, at)) {
		let first = at;
		while (first < until && (text[first] === " " || text[first] === "\t" || text[first] === "\uFEFF")) first++;
		const char = text[first];
		if (first < until && char !== "\n" && char !== "\r" && char !== "#" && !(char === "%" && first === at)) return true;
	}
	return false;
}

/** Offset after the line break of the line that `at` stands in. */
function lineEnd(text: string, at: number): number {
	const feed = text.indexOf("\n", at);
	return feed === -1 ? text.length : feed + 1;
}
