import { type EvaluatedTarget, isOfArcs } from "../../cells/targets/target.ts";
import { overLimit } from "../../notation/over-limit.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { atMost, eachTarget, exposureFix } from "./each.ts";

const words = sentences("target/half-rate", {
	title: "Half rate blurs sky and ground",
	about: `At half the sidereal rate both the stars and the ground move across the frame at half their usual speed.
		That doubles the longest sharp exposure for both, but gains no more than that. Use a shorter exposure, or
		track at the full rate and take a separate foreground frame.`,
	message: `At half rate the stars trail by {stars} px and the ground by {ground} px in this exposure; the plan allows
		{allowed} px. Expose for {most}.`,
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
			const longest = longestAtHalf(target);
			yield {
				...at(cell, `${index}.exposure`),
				message: words.message({
					stars: overLimit(limits.floor, trailLimit, 1),
					ground: overLimit(limits.ground, trailLimit, 1),
					allowed: trailLimit,
					most: atMost(one, longest),
				}),
				fixes: () => exposureFix(evaluation, one, longestAtHalf),
			};
		}
	},
});

/** The longest exposure that keeps sky and ground within what the plan allows. */
const longestAtHalf = ({ limits, entry, trailLimit }: EvaluatedTarget): number =>
	limits ? Math.min(limits.onPole, ((entry.exposure ?? 0) * trailLimit) / limits.ground) : 0;
