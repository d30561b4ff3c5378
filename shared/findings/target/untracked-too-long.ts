import { isOfArcs } from "../../cells/targets/target.ts";
import { placeInFrame } from "../../cells/targets/values.ts";
import { exposureText } from "../../notation/duration.ts";
import { overLimit } from "../../notation/over-limit.ts";
import { starsOut } from "../../sky/night.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { atMost, eachTarget, exposureFix, JUST_OVER } from "./each.ts";

const words = sentences("target/untracked-too-long", {
	title: "Exposure too long without tracking",
	about: `The camera does not follow the sky, and during one exposure the stars move further than \`trail\` allows.
		The limit is computed from the rotation of the sky through the projection of the lens, at the place in the frame
		where stars move fastest. Use a shorter exposure or focal length, track, or write \`stars: trails\` if you want
		arcs.`,
	ground: `In an untracked exposure of {exposure} stars trail by up to {trail} px ({place} of the frame); the plan
		allows {allowed} px. Write \`stars: trails\` if you want arcs, or expose for {most}. If only the ground matters,
		leave the exposure as it is.`,
	message: `In an untracked exposure of {exposure} stars trail by up to {trail} px; the plan allows {allowed} px. Expose for
		{most}.`,
});

export default rule({
	code: "target/untracked-too-long",
	severity: "warning",
	words,
	wrong: {
		targets: '- name: core over the gate\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 30 s\n  tracked: false',
	},
	right: [
		{
			targets:
				'- name: core over the gate\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 3.2 s\n  tracked: false',
		},
		{
			targets:
				'- name: gate\n  aim: { azimuth: 20, altitude: 45 }\n  from: "21:30"\n  exposure: 2.9 s\n  tracked: false',
		},
	],
	over: [
		{
			targets:
				'- name: core over the gate\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 3.3 s\n  tracked: false',
		},
		{
			targets: '- name: gate\n  aim: { azimuth: 20, altitude: 45 }\n  from: "21:30"\n  exposure: 3 s\n  tracked: false',
		},
	],
	each: "target",
	*find(evaluation) {
		const { site } = evaluation;
		for (const one of eachTarget(evaluation)) {
			const { cell, target } = one;
			if (target.tracked || !target.limits || isOfArcs(target.entry)) continue;
			const { trail, worst } = target.limits;
			// By day, or with no sky in the frame, a fixed direction is for the ground.
			if (target.fixed && !(worst.frame.showsSky && site && starsOut(site.spot, target.series.from))) continue;
			if (trail <= target.trailLimit) continue;
			const exposure = target.entry.exposure ?? 0;
			const { untracked } = target.limits;
			if (exposure <= untracked * JUST_OVER) continue;
			yield {
				...at(cell, `${target.index}.exposure`),
				...(target.fixed && !target.forSky ? { severity: "info" } : {}),
				message: (target.fixed && !target.forSky ? words.ground : words.message)({
					place: placeInFrame(worst.star.place),
					exposure: exposureText(exposure),
					trail: overLimit(trail, target.trailLimit, 1),
					allowed: target.trailLimit,
					most: atMost(one, untracked),
				}),
				fixes: () => exposureFix(evaluation, one, ({ limits }) => limits?.untracked),
			};
		}
	},
});
