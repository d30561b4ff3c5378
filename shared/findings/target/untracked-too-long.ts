import { durationText } from "../../notation/duration.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";
import { exposureText } from "./exposure-text.ts";

const words = sentences("target/untracked-too-long", {
	title: "Stars trail: exposed too long for an untracked frame",
	about: `The camera stands still, and over the exposure the stars move further than the trail allowed. The limit is the
		exact turn of the sky in the lens's projection, for the worst place of the frame.`,
	message: `Untracked for {exposure}, stars trail by up to {trail} px; the plan allows {allowed} px, which is
		{longest}.`,
	change: "Change to {exposure}",
});

export default rule({
	code: "target/untracked-too-long",
	severity: "warning",
	words,
	wrong: {
		targets: '- name: core over the gate\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 30 s\n  tracked: false',
	},
	right: {
		targets: '- name: core over the gate\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 3.2 s\n  tracked: false',
	},
	over: {
		targets: '- name: core over the gate\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 3.3 s\n  tracked: false',
	},
	each: "target",
	*find(evaluation) {
		for (const { cell, target } of eachTarget(evaluation)) {
			// A fixed direction is the ground by dusk as a rule: stars are not what it is about.
			if (target.tracked || target.fixed || !target.limits) continue;
			const { untracked, trail } = target.limits;
			const exposure = target.entry.exposure ?? 0;
			if (exposure <= untracked * 1.02) continue;
			const better = exposureText(untracked);
			yield {
				...at(cell, `${target.index}.exposure`),
				message: words.message({
					exposure: durationText(exposure),
					trail: trail.toFixed(1),
					allowed: target.trailLimit,
					longest: durationText(untracked),
				}),
				fixes: fix(words.change({ exposure: better }), false, replaceValue(cell, `${target.index}.exposure`, better)),
			};
		}
	},
});
