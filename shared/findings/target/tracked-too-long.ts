import { WANTED_CHANCE } from "../../alignment/longest-exposure.ts";
import type { EvaluatedMethod } from "../../cells/method/method.ts";
import type { TargetLimits } from "../../cells/targets/limits.ts";
import { isOfArcs } from "../../cells/targets/target.ts";
import { placeInFrame } from "../../cells/targets/values.ts";
import { degrees, errorDegrees, largestDegrees } from "../../notation/angle.ts";
import { chanceText } from "../../notation/chance.ts";
import { exposureText } from "../../notation/duration.ts";
import { type Phrase, sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { atMost, eachTarget, exposureFix, JUST_OVER } from "./each.ts";

const words = sentences("target/tracked-too-long", {
	title: "Exposure too long for the alignment",
	about: `The expected axis error of the first method that works tonight, the drive's periodic error, its rate, and
		refraction together leave less than a 90 % chance that stars stay within \`trail\`. Use a shorter exposure,
		align more accurately, or accept longer trails. Wind, focus and sag are not included, and the chance is only as
		good as your ± values.`,
	message: `In an exposure of {exposure} the chance that stars stay within {trail} px is {chance}; it should be {wanted}.
		The cause: {why}.{advice}`,
	longest: " Expose for {most}.",
	none: " No exposure is short enough for that.",
	axis: `the {method} is expected to leave the axis within {error} of the pole (19 times in 20, if your ± are right), but this
		exposure allows only {allowed}`,
	drive: `the drive's periodic error alone causes trails of {median} px or more on half of the frames and {most} px or more on
		one in twenty`,
	refraction: `refraction alone causes trails of {floor} px at altitude {altitude} ({place} of the frame); a higher \`sharp-above\`
		leaves such stars out`,
	rate: "the tracker does not turn at the rate of the stars",
});

export default rule({
	code: "target/tracked-too-long",
	severity: "warning",
	whole: true,
	words,
	wrong: {
		method: "kind: phone",
		targets:
			'- name: core over the gate\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 240 s\n  foreground: true',
	},
	right: {
		method: "kind: phone",
		targets:
			'- name: core over the gate\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 28.7 s\n  foreground: true',
	},
	over: {
		method: "kind: phone",
		targets:
			'- name: core over the gate\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 29 s\n  foreground: true',
	},
	each: "target",
	*find(evaluation) {
		const { axis } = evaluation;
		if (!axis) return;
		for (const one of eachTarget(evaluation)) {
			const { cell, target } = one;
			const { limits, entry, index } = target;
			if (
				!target.tracked ||
				!target.forSky ||
				!limits ||
				evaluation.tracker?.rate === "half" ||
				isOfArcs(entry) ||
				limits.isSure ||
				!limits.worst.frame.showsSky ||
				limits.tracked === undefined
			)
				continue;
			const exposure = entry.exposure ?? 0;
			if (exposure <= limits.tracked * JUST_OVER) continue;
			yield {
				...at(cell, `${index}.exposure`),
				message: words.message({
					exposure: exposureText(exposure),
					trail: target.trailLimit,
					chance: chanceText(Math.floor(limits.chance * 100) / 100),
					why: whyOf(limits, axis),
					wanted: chanceText(WANTED_CHANCE),
					advice: limits.tracked > 0 ? words.longest({ most: atMost(one, limits.tracked) }) : words.none(),
				}),
				fixes: () => exposureFix(evaluation, one, (target) => target.limits?.tracked),
			};
		}
	},
});

/** What makes the trails, with its numbers: the alignment only where it leaves something to do. */
function whyOf(limits: TargetLimits, { name, budget }: EvaluatedMethod): Phrase {
	const { worst, axisErrorAllowed: allowed = -1 } = limits;
	const source = limits.source !== "axis" || allowed >= 0 ? limits.source : limits.drive ? "drive" : "refraction";
	if (source === "axis")
		return words.axis({
			method: name,
			error: errorDegrees(budget.radius95),
			allowed: largestDegrees(allowed, 2),
		});
	const drive = source === "drive" ? limits.drive : undefined;
	if (drive) return words.drive({ median: drive.median.toFixed(1), most: drive.most.toFixed(1) });
	if (source === "rate") return words.rate();
	const { seen, place } = worst.star;
	return words.refraction({
		floor: limits.floor.toFixed(1),
		altitude: degrees(seen.altitude),
		place: placeInFrame(place),
	});
}
