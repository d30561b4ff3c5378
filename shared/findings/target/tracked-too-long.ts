import { WANTED_CHANCE } from "../../alignment/trail.ts";
import { errorDegrees } from "../../notation/angle.ts";
import { durationText } from "../../notation/duration.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";
import { exposureText } from "./exposure-text.ts";

const words = sentences("target/tracked-too-long", {
	title: "Longer than the axis error allows",
	about: `With the axis error that the method leaves (the first that works tonight), periodic error, rate and refraction
		counted, stars trail further than the plan allows on more than one frame in ten. Expose shorter, align finer, or
		allow a longer trail.`,
	message: `{exposure} keeps within {trail} px with a chance of {chance} %: \`{method}\` leaves {error} of axis error
		(95 %), this exposure allows {allowed}. {wanted} % sure is {longest}.`,
	change: "Change to {exposure}",
});

export default rule({
	code: "target/tracked-too-long",
	severity: "warning",
	words,
	wrong: {
		method: "kind: phone",
		targets:
			'- name: core over the gate\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 240 s\n  companion: true',
	},
	right: {
		method: "kind: phone",
		targets:
			'- name: core over the gate\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 28.7 s\n  companion: true',
	},
	over: {
		method: "kind: phone",
		targets: '- name: core over the gate\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 29 s\n  companion: true',
	},
	each: "target",
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
			const better = limits.tracked >= 0.5 ? exposureText(limits.tracked) : undefined;
			yield {
				...at(cell, `${index}.exposure`),
				message: words.message({
					exposure: durationText(exposure),
					trail: target.trailLimit,
					chance: Math.round(limits.chance * 100),
					method: aligned.method.kind,
					error: errorDegrees(aligned.budget.radius95),
					allowed: errorDegrees(Math.max(0, limits.axisErrorAllowed ?? 0), 2),
					wanted: WANTED_CHANCE * 100,
					longest: durationText(limits.tracked),
				}),
				fixes: better
					? fix(words.change({ exposure: better }), false, replaceValue(cell, `${index}.exposure`, better))
					: [],
			};
		}
	},
});
