/** What a notebook asks for: its cells' parts of the page, and kinds of cells to add. Nothing of it is written into the plan. */

import { CELL_KINDS } from "../../shared/cells/kinds.ts";
import { kindsToAdd, skeletonOf } from "../../shared/plan/skeleton.ts";
import { explanationUri } from "../../shared/protocol/explanation.ts";
import { answer } from "../../shared/protocol/message.ts";
import { CELL_OUTPUTS, KINDS_TO_ADD } from "../../shared/protocol/notebook.ts";
import { emptied } from "../../shared/text/template.ts";
import type { Feature } from "../session.ts";

export const notebook: Feature = {
	capabilities: {},
	listen(session) {
		answer(session.connection, CELL_OUTPUTS, ({ uri }) => {
			const open = session.notebooks.plan(String(uri));
			if (!open) return null;
			return session.answered(
				"cell outputs",
				open.cells[0]?.uri ?? open.uri,
				(document, plan, { cellPart, pageView }) => {
					const evaluation = plan.evaluation(document);
					const view = pageView(evaluation, plan.findings(document));
					/** Numbers of the plan's cells that are in each of the notebook's: one, as a rule. */
					const own = new Map<unknown, number[]>(open.cells.map((cell) => [cell, []]));
					for (const { read, start, end, index } of evaluation.plan.cells) {
						const key = read.places.get("")?.key;
						own.get(open.cellAt(key ? start + key.from : Math.min(start + 4, end)))?.push(index);
					}
					return open.cells.map((cell) => ({ uri: cell.uri, ...cellPart(view, own.get(cell) ?? [], explanationUri) }));
				},
			);
		});
		answer(session.connection, KINDS_TO_ADD, ({ uri }) => {
			const open = session.notebooks.plan(String(uri));
			if (!open) return null;
			return session.guarded("cell kinds", open.cells[0]?.uri ?? open.uri, (document, plan) => {
				return kindsToAdd(plan.evaluation(document).plan).map(({ kind, missing }) => ({
					label: kind,
					description: missing ? "required" : "",
					detail: CELL_KINDS[kind].doc,
					text: emptied(skeletonOf(kind)),
				}));
			});
		});
	},
};
