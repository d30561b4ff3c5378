import { durationText } from "../../notation/duration.ts";
import { at, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";

export default rule({
	code: "target/turn-limit",
	severity: "warning",
	title: "Longer than the tracker can turn",
	about:
		"The tracker must be turned back before the series ends. Turn it back in a gap, after which the frame must be set anew.",
	wrong: { tracker: "head: geared\nturn-limit: 10 min" },
	right: {},
	*find(evaluation) {
		const limit = evaluation.tracker?.["turn-limit"];
		if (limit === undefined) return;
		for (const { cell, target } of eachTarget(evaluation)) {
			if (!target.tracked || target.seconds <= limit) continue;
			yield {
				...at(cell, `${target.index}.${target.entry.frames === undefined ? "exposure" : "frames"}`),
				message: `${target.name} takes ${durationText(target.seconds)}; the tracker can run for ${durationText(limit)} before it must be turned back.`,
			};
		}
	},
});
