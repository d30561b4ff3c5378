/** What was surveyed, as an edit of a document, or why there is none. */
import type { Plan } from "../../shared/plan/plan.ts";
import type { WRITE_GROUND } from "../../shared/protocol/ground.ts";
import type { ParamsOf } from "../../shared/protocol/message.ts";
import { sentences, told } from "../../shared/text/sentence.ts";
import { shown } from "../../shared/text/shown.ts";
import type { PlanText } from "../plan-text.ts";
import { workspaceEdit } from "../text-edits.ts";
import { groundEdits } from "./write.ts";

const words = sentences("feature.ground", {
	notWritten: "Nothing was written: a skyline cannot be added to this site as it is written. Add it by hand.",
});

export function groundEdit(
	document: PlanText,
	plan: Plan,
	{ points, comments, elevation }: ParamsOf<typeof WRITE_GROUND>["found"],
) {
	const items = points.map(([bearing, altitude]) => `[${bearing.toFixed(1)}, ${altitude.toFixed(2)}]`);
	const edits = groundEdits(plan, { items, comments: comments.map(shown) }, elevation ?? undefined);
	return edits.length > 0
		? { edit: workspaceEdit(document, edits), problem: "" }
		: { edit: null, problem: told(words.notWritten()) };
}
