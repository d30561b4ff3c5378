import { at, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";

export default rule({
	code: "target/half-rate",
	severity: "warning",
	title: "Half rate: sky and ground both trail",
	about:
		"At half the stars' rate the sky trails at half speed one way and the ground at half speed the other. It doubles the untracked exposure for both at once, no more.",
	wrong: {
		tracker: "head: geared\nrate: half",
		targets: '- name: core over the gate\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 60 s',
	},
	right: {},
	*find(evaluation) {
		if (evaluation.tracker?.rate !== "half") return;
		for (const { cell, target } of eachTarget(evaluation)) {
			const { limits, trailLimit } = target;
			if (!target.tracked || target.fixed || !limits || (limits.floor <= trailLimit && limits.ground <= trailLimit))
				continue;
			yield {
				...at(cell, `${target.index}.exposure`),
				message: `At half rate, over this exposure, stars trail by ${limits.floor.toFixed(1)} px and the ground by ${limits.ground.toFixed(1)} px; the plan allows ${trailLimit} px.`,
			};
		}
	},
});
