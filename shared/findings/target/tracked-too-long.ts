import { WANTED_CHANCE } from "../../alignment/longest-exposure.ts";
import type { EvaluatedMethod } from "../../cells/method/method.ts";
import type { TargetLimits } from "../../cells/targets/limits.ts";
import { isOfArcs } from "../../cells/targets/target.ts";
import { placeInFrame } from "../../cells/targets/values.ts";
import { degrees, errorDegrees } from "../../notation/angle.ts";
import { chanceText } from "../../notation/chance.ts";
import { durationText } from "../../notation/duration.ts";
import { type Phrase, sentences } from "../../text/sentence.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";
import { exposureText } from "./exposure-text.ts";

const words = sentences("target/tracked-too-long", {
	title: "Exposure too long for the alignment",
	about: `The expected axis error of the first method that works tonight, the drive's periodic error, its rate and
		refraction let the stars trail further than \`trail\` allows on more than one frame in ten. Expose shorter, align
		more accurately, or accept longer trails. Wind, focus and sag are not included, and the chance is only as good
		as your ± values.`,
	message: `Exposed for {exposure}, the stars stay within {trail} px with a chance of {chance}: {why}. For a chance of
		{wanted}, expose for {longest} at most.`,
	axis: `the axis is expected within {error} of the pole by \`{method}\` (19 times in 20), and this exposure allows
		{allowed}`,
	drive: `the drive's periodic error alone trails by {median} px or more on half of the frames and by {most} px or more on
		one in twenty`,
	refraction: `refraction alone trails by {floor} px at altitude {altitude} ({place} of the frame); a higher \`sharp-above\`
		leaves such stars out`,
	rate: "the tracker does not turn at the rate of the stars",
	change: "Change to {exposure}",
});

export default rule({
	code: "target/tracked-too-long",
	severity: "warning",
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
		const { aligned } = evaluation;
		if (!aligned) return;
		for (const { cell, target } of eachTarget(evaluation)) {
			const { limits, entry, index } = target;
			if (
				!target.tracked ||
				target.fixed ||
				!limits ||
				evaluation.tracker?.rate === "half" ||
				isOfArcs(entry) ||
				limits.isSure ||
				limits.tracked === undefined
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
					chance: chanceText(limits.chance),
					why: whyOf(limits, aligned),
					wanted: chanceText(WANTED_CHANCE),
					longest: durationText(limits.tracked),
				}),
				fixes: better
					? fix(words.change({ exposure: better }), false, replaceValue(cell, `${index}.exposure`, better))
					: [],
			};
		}
	},
});

/** What makes the trails, with its numbers: the alignment only where it leaves something to do. */
function whyOf(limits: TargetLimits, { method, budget }: EvaluatedMethod): Phrase {
	const { worst, drive, axisErrorAllowed: allowed = -1 } = limits;
	const source = limits.source !== "axis" || allowed >= 0 ? limits.source : drive ? "drive" : "refraction";
	if (source === "axis")
		return words.axis({ method: method.kind, error: errorDegrees(budget.radius95), allowed: errorDegrees(allowed, 2) });
	if (source === "drive" && drive) return words.drive({ median: drive.median.toFixed(1), most: drive.most.toFixed(1) });
	if (source === "rate") return words.rate();
	const { seen, place } = worst.star;
	return words.refraction({
		floor: limits.floor.toFixed(1),
		altitude: degrees(seen.altitude),
		place: placeInFrame(place),
	});
}
