/** Whether two YAML documents say the same: equal values, tags, anchors and aliases in one order, and the comments. */
import { type Document, isAlias, isCollection, isPair, isScalar, type Node, type Pair } from "yaml";

/** Without an error in either; how values are quoted and where white space stands does not count. */
export function saysTheSame(one: Document.Parsed, other: Document.Parsed): boolean {
	if (one.errors.length > 0 || other.errors.length > 0) return false;
	const [before, after] = [flat(one), flat(other)];
	return before.length === after.length && before.every((part, i) => Object.is(part, after[i]));
}

/**
 * All of a document as one list, in the order of the text. Aliases are not followed: where they have the same names and
 * the anchors stand at the same values, what they stand for is the same.
 */
function flat(document: Document.Parsed): readonly unknown[] {
	const found: unknown[] = [document.commentBefore, document.comment].flatMap(commentLines);
	const stack: (Node | Pair | null | undefined)[] = [document.contents as Node | null];
	while (stack.length > 0) {
		const node = stack.pop();
		if (isPair(node)) {
			stack.push(node.value as Node | null, node.key as Node | null);
			found.push("pair");
			continue;
		}
		if (!node) {
			found.push(null);
			continue;
		}
		found.push(...commentLines(node.commentBefore), ...commentLines(node.comment));
		if (isAlias(node)) found.push("alias", node.source);
		else if (isScalar(node)) found.push("scalar", node.anchor, node.tag, node.value);
		else if (isCollection(node)) {
			found.push("collection", node.anchor, node.tag, node.items.length);
			for (let i = node.items.length - 1; i >= 0; i--) stack.push(node.items[i] as Node | Pair);
		}
	}
	return found;
}

/** Blank lines that stand between comments are kept by the parser as lines of theirs. */
const commentLines = (comment: string | null | undefined): readonly string[] =>
	(comment ?? "").split("\n").flatMap((line) => (line.trim() === "" ? [] : [line.trim()]));
