/** The edits that format a plan, or what of it is in one cell of a notebook, and what is said of the rest. */
import type { TextEdit } from "vscode-languageserver";
import { formatEdits, unparsed } from "../shared/plan/format.ts";
import { sentences, told } from "../shared/text/sentence.ts";
import { isIn, locationOf, type PlanText, spanOf } from "./plan-text.ts";

const words = sentences("feature.formatting", {
	one: "The cell in line {line} does not parse: it was left as it is.",
	many: "{count} cells do not parse, the first in line {line}: they were left as they are.",
});

/** What is said of cells that cannot be formatted. */
export function leftAsItIs(document: PlanText): string | undefined {
	const cells = unparsed(document.getText()).filter(({ start }) => isIn(document, start));
	const [first] = cells;
	if (!first) return undefined;
	const line = document.positionAt(first.start + (/^---[^\n]*\n/.exec(first.text)?.[0].length ?? 0)).line + 1;
	return told(cells.length === 1 ? words.one({ line }) : words.many({ count: cells.length, line }));
}

/** The edits that format what is in a text. */
export function formatted(document: PlanText): TextEdit[] {
	const span = spanOf(document);
	return formatEdits(document.getText())
		.filter(({ from, to }) => from >= span.from && to <= span.to)
		.map(({ from, to, text }) => ({ range: locationOf(document, from, to).range, newText: text }));
}
