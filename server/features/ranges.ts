/** Folding of cells and of what is indented; selection that grows (`selection.ts`, loaded on first use). */
import { type FoldingRange, FoldingRangeKind } from "vscode-languageserver";
import type { PlanDocument } from "../plan-document.ts";
import { isIn, type PlanText, spanOf } from "../plan-text.ts";
import type { Feature } from "../session.ts";
import { contentEnd } from "./symbols.ts";

export const ranges: Feature = {
	capabilities: { foldingRangeProvider: true, selectionRangeProvider: true },
	listen(session) {
		session.connection.onFoldingRanges(({ textDocument }) => session.guarded("folding", textDocument.uri, foldingOf));
		session.connection.onSelectionRanges(async ({ textDocument, positions }) => {
			const { selectionAt } = await session.loaded(() => import("./selection.ts"));
			return session.guarded("selection", textDocument.uri, (document, plan) =>
				positions.map((position) => selectionAt(document, plan, position)),
			);
		});
	},
};

const MOST_FOLDS = 5000;

export function foldingOf(document: PlanText, plan: PlanDocument): FoldingRange[] {
	const found: FoldingRange[] = [];
	for (const cell of plan.evaluation(document).plan.cells) {
		const text = cell.text.slice(0, contentEnd(cell));
		// Of a cell of a notebook only what is in it.
		const skipped = text.slice(0, Math.max(0, spanOf(document).from - cell.start));
		if (!isIn(document, cell.start + skipped.length)) continue;
		const lines = text.split("\n");
		const firstLine = document.positionAt(cell.start + skipped.length).line - (skipped.split("\n").length - 1);
		/** Lines that open something, by their indentation. */
		const open: { indent: number; line: number }[] = [];
		let last = 0;
		const close = (indent: number): void => {
			for (let top = open[open.length - 1]; top && top.indent >= indent; top = open[open.length - 1]) {
				open.pop();
				if (last > top.line) found.push({ startLine: firstLine + top.line, endLine: firstLine + last });
			}
		};
		lines.forEach((line, i) => {
			if (line.trim() === "") return;
			if (/^(?:---|\.\.\.)/.test(line)) {
				last = i;
				return;
			}
			const indent = line.length - line.trimStart().length;
			close(indent);
			if (!line.trimStart().startsWith("#")) open.push({ indent, line: i });
			last = i;
		});
		close(0);
		const comment = /^(?:[ \t]*#.*\r?\n){2,}/.exec(cell.text);
		if (comment)
			found.push({
				startLine: firstLine,
				endLine: firstLine + comment[0].split("\n").length - 2,
				kind: FoldingRangeKind.Comment,
			});
		if (found.length > MOST_FOLDS) break;
	}
	return found.slice(0, MOST_FOLDS);
}
