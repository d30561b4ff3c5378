/**
 * What is cut out of a text to take away an entry of a mapping, `key: value`: the lines it stands on, or in a flow
 * mapping the entry with one comma. Undefined where more stands on its lines, such as a comment.
 */
import type { Span } from "./span.ts";

export function cutEntry(text: string, { from, to }: Span): Span | undefined {
	const lineStart = text.lastIndexOf("\n", from - 1) + 1;
	const before = text.slice(lineStart, from);
	const comma = /,[ \t]*$/.exec(before);
	if (comma) return { from: lineStart + comma.index, to };
	const feed = text.indexOf("\n", to);
	const lineEnd = feed === -1 ? text.length : feed + 1;
	if (/\{[ \t]*$/.test(before)) {
		const next = /^[ \t]*,[ \t]*/.exec(text.slice(to, lineEnd));
		return next ? { from, to: to + next[0].length } : undefined;
	}
	if (before.trim() !== "") return undefined;
	if (text[to - 1] === "\n") return { from: lineStart, to };
	return text.slice(to, lineEnd).trim() === "" ? { from: lineStart, to: lineEnd } : undefined;
}
