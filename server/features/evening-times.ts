/** The evening's placed times as an edit of the plan: asked for by a command of the extension. */
import { WRITE_EVENING } from "../../shared/protocol/choices.ts";
import { answer } from "../../shared/protocol/message.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import type { Feature } from "../session.ts";
import { workspaceEdit } from "../text-edits.ts";

const words = sentences("feature.evening-times", {
	writeEvening: "write evening",
	nothingWasWritten: "Nothing was written: {why}.",
});

export const eveningTimes: Feature = {
	capabilities: {},
	listen(session) {
		answer(session.connection, WRITE_EVENING, ({ uri }) =>
			session.answered(told(words.writeEvening()), uri, (document, plan, { writeEvening }) => {
				const written = writeEvening(plan.evaluation(document), (text) => plan.evaluated(document, text));
				return written.ok
					? { edit: workspaceEdit(document, written.edits), problem: "" }
					: { edit: null, problem: told(words.nothingWasWritten({ why: told(written.why) })).replace(/\.\.$/, ".") };
			}),
		);
	},
};
