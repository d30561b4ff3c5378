/** Selection that grows from a value to its key, its item, its cell. Loaded on first use. */
import type { Position, SelectionRange } from "vscode-languageserver";
import { cellAt } from "../../shared/plan/field-at.ts";
import { placesAround } from "../../shared/plan/places.ts";
import type { PlanDocument } from "../plan-document.ts";
import { type PlanText, spanOf } from "../plan-text.ts";
import { contentEnd } from "./symbols.ts";

export function selectionAt(document: PlanText, plan: PlanDocument, position: Position): SelectionRange {
	const offset = document.offsetAt(position);
	const whole = spanOf(document);
	const cell = cellAt(plan.evaluation(document).plan.cells, offset);
	const spans: [number, number][] = [[whole.from, whole.to]];
	if (cell) {
		spans.push([cell.start, cell.end], [cell.start, cell.start + contentEnd(cell)]);
		for (const [, { key, value }] of placesAround(cell.read.places, offset - cell.start)) {
			spans.push([cell.start + value.from, cell.start + value.to]);
			if (key)
				spans.push(
					[cell.start + key.from, cell.start + key.to],
					[cell.start + key.from, cell.start + Math.max(value.to, key.to)],
				);
		}
	}
	const holding = spans
		.map(([from, to]): [number, number] => [Math.max(from, whole.from), Math.min(to, whole.to)])
		.filter(([from, to]) => from <= offset && offset <= to)
		.sort((a, b) => b[1] - b[0] - (a[1] - a[0]));
	let range: SelectionRange | undefined;
	let before: [number, number] | undefined;
	for (const [from, to] of holding) {
		// Each must lie in the one before it, and be smaller.
		if (before && (from < before[0] || to > before[1] || (from === before[0] && to === before[1]))) continue;
		before = [from, to];
		const here = { start: document.positionAt(from), end: document.positionAt(to) };
		range = range ? { range: here, parent: range } : { range: here };
	}
	return range ?? { range: { start: position, end: position } };
}
