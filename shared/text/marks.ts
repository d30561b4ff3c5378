/**
 * How many marks a text has that YAML may mean something by: line breaks, brackets, commas, quotes, anchors, dashes and
 * colons before white space. What a parser does for a text grows with them, and hardly with its length. Counts no
 * further than `most`.
 */
export function marksIn(text: string, most: number): number {
	let count = 0;
	for (let i = 0; i < text.length && count <= most; i++) {
		const code = text.charCodeAt(i);
		if (code > 125 || (code >= 48 && code <= 57) || (code >= 97 && code <= 122) || code === 32) continue;
		if (ALONE.has(code)) count++;
		else if (code === 45 || code === 58) {
			const next = text.charCodeAt(i + 1);
			if (next === 32 || next === 9 || next === 10) count++;
		}
	}
	return count;
}

const ALONE: ReadonlySet<number> = new Set(Array.from("\n[]{},\"'&*!|>?", (mark) => mark.charCodeAt(0)));
