import { isOfArcs } from "../../cells/targets/target.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { eachTarget, exposureFix } from "./each.ts";
import { exposureText } from "./exposure-text.ts";

const words = sentences("target/half-rate", {
	title: "Half rate: sky and ground both trail",
	about: `At half the stars' rate the sky trails at half speed one way and the ground at half speed the other. It doubles
		the untracked exposure for both at once, no more.`,
	message: `At half rate, over this exposure, stars trail by {stars} px and the ground by {ground} px; the plan allows
		{allowed} px.`,
});

export default rule({
	code: "target/half-rate",
	severity: "warning",
	words,
	wrong: {
		tracker: "head: geared\nrate: half",
		targets: '- name: core over the gate\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 60 s',
	},
	right: {
		tracker: "head: geared\nrate: half",
		targets: '- name: core over the gate\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 6.4 s',
	},
	over: {
		tracker: "head: geared\nrate: half",
		targets: '- name: core over the gate\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 6.5 s',
	},
	each: "target",
	*find(evaluation) {
		if (evaluation.tracker?.rate !== "half") return;
		for (const one of eachTarget(evaluation)) {
			const { cell, target } = one;
			const { limits, trailLimit, entry, index } = target;
			if (
				!target.tracked ||
				!target.forSky ||
				isOfArcs(entry) ||
				!limits ||
				(limits.floor <= trailLimit && limits.ground <= trailLimit)
			)
				continue;
			const forGround = ((entry.exposure ?? 0) * trailLimit) / limits.ground;
			const longest = Math.min(limits.onPole, forGround);
			yield {
				...at(cell, `${index}.exposure`),
				message: words.message({
					stars: limits.floor.toFixed(1),
					ground: limits.ground.toFixed(1),
					allowed: trailLimit,
				}),
				fixes: longest >= 0.01 ? exposureFix(one, exposureText(longest)) : [],
			};
		}
	},
});
