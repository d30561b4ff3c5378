import { CELL_KIND_NAMES, CELL_KINDS } from "../../cells/kinds.ts";
import { type Cell, inText } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import type { Span } from "../../text/span.ts";
import { type Edit, fix, lineBreakOf, rule } from "../finding.ts";
import { problemsOf } from "./problems.ts";

const words = sentences("structure/two-kinds", {
	title: "Two kinds in one cell",
	about: `A cell has exactly one key at its left edge, its kind. A second one is either the start of another cell,
		which needs a \`---\` line above it, or a key of this cell that has lost its indentation. Until you choose, the
		second part is not read. Insert the \`---\` line, or indent the key.`,
	cell: "`{word}` starts a new cell. Put a `---` line above it.",
	key: "`{word}` is at the same level as `{kind}`. Indent it to make it a key of `{kind}`.",
	mark: "Insert --- above it",
	indent: "Indent it",
});

export default rule({
	code: "structure/two-kinds",
	severity: "error",
	words,
	wrong: { text: "plan:\n  title: A\nsite:\n  name: B\n" },
	instead: { text: "plan:\n  title: A\n---\nsite:\n  name: B\n" },
	right: { plan: "title: A\nsummary: B" },
	*find(evaluation) {
		for (const { cell, problem } of problemsOf(evaluation, "two-kinds")) {
			const [kind = "", word = ""] = problem.words;
			const { from } = problem;
			yield (CELL_KIND_NAMES as readonly string[]).includes(word)
				? {
						cell,
						span: problem,
						message: words.cell({ word }),
						fixes: fix(words.mark(), true, {
							...inText(cell, { from, to: from }),
							text: `---${lineBreakOf(cell.text)}`,
						}),
					}
				: {
						cell,
						span: problem,
						message: words.key({ word, kind }),
						fixes: fix(words.indent(), false, indentation(cell, problem, word)),
					};
		}
	},
});

/** Indents a key with a value on its line as the keys of the cell are, where the cell knows it and lacks it. */
function indentation(cell: Cell, { from }: Span, key: string): Edit | undefined {
	const { kind, places } = cell.read;
	if (!kind || places.has(key) || !CELL_KINDS[kind].shape.inside?.(key)) return undefined;
	const above = [...places].findLast(([path, { key }]) => path !== "" && !path.includes(".") && key && key.from < from);
	const own = above?.[1].key?.from;
	if (own === undefined || !/(?:^|\n)$/.test(cell.text.slice(0, from))) return undefined;
	const indent = /^[ ]+$/.exec(cell.text.slice(cell.text.lastIndexOf("\n", own) + 1, own))?.[0];
	const nextLine = /\n(.?)/.exec(cell.text.slice(from))?.[1] ?? "";
	return indent && !/[ \t]/.test(nextLine) ? { ...inText(cell, { from, to: from }), text: indent } : undefined;
}
