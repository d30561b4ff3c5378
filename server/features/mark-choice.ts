/** What the method at the cursor can be pointed at, as choices: asked for by a command of the extension. */
import { cellAt } from "../../shared/plan/field-at.ts";
import { MARKS } from "../../shared/protocol/choices.ts";
import { answer } from "../../shared/protocol/message.ts";
import type { Feature } from "../session.ts";

export const markChoice: Feature = {
	capabilities: {},
	listen(session) {
		answer(session.connection, MARKS, async ({ uri, line }) => {
			const { marksAt } = await session.loaded(() => import("../choosing/marks.ts"));
			return session.guarded("marks", uri, (document, plan) => {
				const evaluation = plan.evaluation(document);
				const offset = document.offsetAt({ line: Number(line) || 0, character: 0 });
				return marksAt(document, evaluation, cellAt(evaluation.plan.cells, offset));
			});
		});
	},
};
