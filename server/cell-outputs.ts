/** What is shown under each cell of a notebook: its part of the page. Loaded on first use. */
import { cellPart } from "../shared/outputs/notebook/cell-part.tsx";
import { pageView } from "../shared/outputs/page/view.ts";
import { explanationUri } from "../shared/protocol/explanation.ts";
import type { CellOutput } from "../shared/protocol/notebook.ts";
import type { PlanDocument } from "./plan-document.ts";
import type { NotebookPlan, PlanText } from "./plan-text.ts";

export function cellOutputs(open: NotebookPlan, document: PlanText, plan: PlanDocument): CellOutput[] {
	const evaluation = plan.evaluation(document);
	const view = pageView(evaluation, plan.findings(document));
	/** Numbers of the plan's cells that are in each of the notebook's: one, as a rule. */
	const own = new Map<unknown, number[]>(open.cells.map((cell) => [cell, []]));
	for (const { read, start, end, index } of evaluation.plan.cells) {
		const key = read.places.get("")?.key;
		own.get(open.cellAt(key ? start + key.from : Math.min(start + 4, end)))?.push(index);
	}
	return open.cells.map((cell) => ({ uri: cell.uri, ...cellPart(view, own.get(cell) ?? [], explanationUri) }));
}
