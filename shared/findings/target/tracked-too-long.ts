import { WANTED_CHANCE } from "../../alignment/trail.ts";
import { degrees } from "../../notation/angle.ts";
import { durationText } from "../../notation/duration.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";
import { nice } from "./untracked-too-long.ts";

export default rule({
	code: "target/tracked-too-long",
	severity: "warning",
	title: "Longer than the axis error allows",
	about:
		"With the axis error that the method leaves (the first that works tonight), periodic error, rate and refraction counted, stars trail further than the plan allows on more than one frame in ten. Expose shorter, align finer, or allow a longer trail.",
	wrong: {
		method: "kind: phone",
		targets:
			'- name: core over the gate\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 240 s\n  companion: true',
	},
	right: {},
	*find(evaluation) {
		const { aligned } = evaluation;
		if (!aligned) return;
		for (const { cell, target } of eachTarget(evaluation)) {
			const { limits, entry, index } = target;
			if (
				!target.tracked ||
				target.fixed ||
				!limits ||
				!(limits.chance < WANTED_CHANCE) ||
				limits.tracked === undefined ||
				evaluation.tracker?.rate === "half"
			)
				continue;
			const exposure = entry.exposure ?? 0;
			if (exposure <= limits.tracked * 1.02) continue;
			const needed = Math.max(0, limits.axisErrorAllowed ?? 0);
			const better = limits.tracked >= 0.5 ? nice(limits.tracked) : undefined;
			yield {
				...at(cell, `${index}.exposure`),
				message: `${durationText(exposure)} keeps within ${target.trailLimit} px with a chance of ${Math.round(limits.chance * 100)} %: \`${aligned.method.kind}\` leaves ${degrees(aligned.budget.radius95)} of axis error (95 %), this exposure allows ${degrees(needed, 2)}. ${WANTED_CHANCE * 100} % sure is ${durationText(limits.tracked)}.`,
				fixes: better ? fix(`Change to ${better}`, false, replaceValue(cell, `${index}.exposure`, better)) : [],
			};
		}
	},
});
