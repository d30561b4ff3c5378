/** Frames measured against a plan, and what was measured written into its log: asked for by commands of the extension. */
import { FRAME, MEASURE, type MeasureAnswer, WRITE_MEASURED } from "../../shared/protocol/measuring.ts";
import { answer, ask } from "../../shared/protocol/message.ts";
import type { Feature } from "../session.ts";
import { workspaceEdit } from "../text-edits.ts";

export const measuring: Feature = {
	capabilities: {},
	listen(session) {
		answer(session.connection, MEASURE, async (wishes): Promise<MeasureAnswer | null> => {
			const { measureFrames } = await session.loaded(() => import("../measuring/measuring.ts"));
			const evaluation = await session.guardedWhenRead("measure", wishes.uri, (document, plan) =>
				plan.evaluation(document),
			);
			return evaluation && measureFrames(evaluation, wishes, (index) => ask(session.connection, FRAME, { index }));
		});
		answer(session.connection, WRITE_MEASURED, async ({ uri, measured }) => {
			const { measuredEdits } = await session.loaded(() => import("../measuring/write.ts"));
			return session.guarded("write measured", uri, (document, evaluated) => {
				const { edits, problem } = measuredEdits(evaluated.evaluation(document).plan, measured);
				return { edit: edits.length > 0 ? workspaceEdit(document, edits) : null, problem };
			});
		});
	},
};
