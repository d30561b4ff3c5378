/** What was measured as edits of the plan, or why nothing is written: loaded on first use. */
import { driveEdits } from "../../shared/measure/drive-edits.ts";
import { lensEdits } from "../../shared/measure/lens-edits.ts";
import { isInLog, logEdits } from "../../shared/measure/log-entry.ts";
import type { Plan } from "../../shared/plan/plan.ts";
import type { WRITE_MEASURED } from "../../shared/protocol/measuring.ts";
import type { ParamsOf } from "../../shared/protocol/message.ts";
import type { TextEdit } from "../../shared/text/edits.ts";
import { sentences, told } from "../../shared/text/sentence.ts";

const words = sentences("feature.measuring", {
	notWritten: "Nothing was written: an entry cannot be added to this log as it is written. Add it by hand.",
	inLog: "Nothing was written: the log has these two frames already.",
	noTracker: "Nothing was written: the plan has no tracker cell of its own to add a key to.",
	noLens: "Nothing was written: the plan has no lens cell of its own with that name.",
});

/** `problem`: empty where there are edits. */
export function measuredEdits(
	plan: Plan,
	measured: ParamsOf<typeof WRITE_MEASURED>["measured"],
): { readonly edits: readonly TextEdit[]; readonly problem: string } {
	const [edits, otherwise] =
		"frames" in measured
			? isInLog(plan, measured)
				? [[], words.inLog()]
				: [logEdits(plan, measured), words.notWritten()]
			: "lens" in measured
				? [lensEdits(plan, measured), words.noLens()]
				: [driveEdits(plan, measured), words.noTracker()];
	return { edits, problem: edits.length > 0 ? "" : told(otherwise) };
}
