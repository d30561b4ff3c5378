/** What a notebook asks for: its cells' parts of the page, and kinds of cells to add. Nothing of it is written into the plan. */

import { CELL_KINDS } from "../../shared/cells/kinds.ts";
import { kindsToAdd, skeletonOf } from "../../shared/plan/skeleton.ts";
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
			return session.answered("cell outputs", open.cells[0]?.uri ?? open.uri, (document, plan, { cellOutputs }) =>
				cellOutputs(open, document, plan),
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
