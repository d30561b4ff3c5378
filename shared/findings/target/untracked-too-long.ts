import { durationText } from "../../notation/duration.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";

export default rule({
	code: "target/untracked-too-long",
	severity: "warning",
	title: "Stars trail: exposed too long for an untracked frame",
	about:
		"The camera stands still, and over the exposure the stars move further than the trail allowed. The limit is the exact turn of the sky in the lens's projection, for the worst place of the frame.",
	wrong: {
		targets: '- name: core over the gate\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 30 s\n  tracked: false',
	},
	right: {},
	*find(evaluation) {
		for (const { cell, target } of eachTarget(evaluation)) {
			// A fixed direction is the ground by dusk as a rule: stars are not what it is about.
			if (target.tracked || target.fixed || !target.limits) continue;
			const { untracked, trail } = target.limits;
			const exposure = target.entry.exposure ?? 0;
			if (exposure <= untracked * 1.02) continue;
			const better = nice(untracked);
			yield {
				...at(cell, `${target.index}.exposure`),
				message: `Untracked for ${durationText(exposure)}, stars trail by up to ${trail.toFixed(1)} px; the plan allows ${target.trailLimit} px, which is ${durationText(untracked)}.`,
				fixes: fix(`Change to ${better}`, false, replaceValue(cell, `${target.index}.exposure`, better)),
			};
		}
	},
});

/** An exposure no longer than a limit, as a person would set it. */
export function nice(seconds: number): string {
	if (seconds < 1) return `${Math.max(0.01, Math.floor(seconds * 100) / 100)} s`;
	if (seconds < 10) return `${Math.floor(seconds * 2) / 2} s`;
	if (seconds < 60) return `${Math.floor(seconds)} s`;
	return `${Math.floor(seconds / 5) * 5} s`;
}
