/** Frames measured against a plan, and what was measured written into its log: asked for by commands of the extension. */
import { driveEdits } from "../../shared/measure/drive-edits.ts";
import { lensEdits } from "../../shared/measure/lens-edits.ts";
import { isInLog, logEdits } from "../../shared/measure/log-entry.ts";
import { FRAME, MEASURE, type MeasureAnswer, WRITE_MEASURED } from "../../shared/protocol/measuring.ts";
import { answer, ask } from "../../shared/protocol/message.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import type { Feature } from "../session.ts";
import { workspaceEdit } from "../text-edits.ts";

const words = sentences("feature.measuring", {
	notWritten: "Nothing was written: an entry cannot be added to this log as it is written. Add it by hand.",
	inLog: "Nothing was written: the log has these two frames already.",
	noTracker: "Nothing was written: the plan has no tracker cell of its own to add a key to.",
	noLens: "Nothing was written: the plan has no lens cell of its own with that name.",
});

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
		answer(session.connection, WRITE_MEASURED, ({ uri, measured }) =>
			session.guarded("write measured", uri, (document, evaluated) => {
				const { plan } = evaluated.evaluation(document);
				const [edits, otherwise] =
					"frames" in measured
						? isInLog(plan, measured)
							? [[], words.inLog()]
							: [logEdits(plan, measured), words.notWritten()]
						: "lens" in measured
							? [lensEdits(plan, measured), words.noLens()]
							: [driveEdits(plan, measured), words.noTracker()];
				if (edits.length > 0) return { edit: workspaceEdit(document, edits), problem: "" };
				return { edit: null, problem: told(otherwise) };
			}),
		);
	},
};
