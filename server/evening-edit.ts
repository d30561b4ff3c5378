/** The evening's placed times as an edit of the plan, or why there is none. Loaded on first use. */
import { writeEvening } from "../shared/findings/evening-edits.ts";
import { sentences, told } from "../shared/text/sentence.ts";
import type { PlanDocument } from "./plan-document.ts";
import type { PlanText } from "./plan-text.ts";
import { workspaceEdit } from "./text-edits.ts";

const words = sentences("feature.evening-times", {
	nothingWasWritten: "Nothing was written: {why}.",
});

export function eveningEdit(document: PlanText, plan: PlanDocument) {
	const written = writeEvening(plan.evaluation(document), (text) => plan.evaluated(document, text));
	return written.ok
		? { edit: workspaceEdit(document, written.edits), problem: "" }
		: { edit: null, problem: told(words.nothingWasWritten({ why: told(written.why) })).replace(/\.\.$/, ".") };
}
