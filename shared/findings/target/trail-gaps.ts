import { isOfArcs } from "../../cells/targets/target.ts";
import { durationText, longestText } from "../../notation/duration.ts";
import { overLimit } from "../../notation/over-limit.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";

const words = sentences("target/trail-gaps", {
	title: "Gaps in the star trails",
	about: `The shutter is closed between two frames while the stars move on. If they move further than \`trail\` in
		that time, the stacked arcs show gaps. Keep the pause short, and switch off long-exposure noise reduction: it
		takes a dark frame after every exposure and so doubles the time.`,
	message: `In the {gap} between two frames the fastest stars move by {moved} px; more than {allowed} px leaves gaps in the
		arcs. Set \`gap\` to {longest} or less.`,
});

export default rule({
	code: "target/trail-gaps",
	severity: "info",
	words,
	wrong: {
		targets:
			'- name: arcs\n  aim: { azimuth: 20, altitude: 45 }\n  from: "21:30"\n  exposure: 60 s\n  frames: 20\n  gap: 10 s\n  stars: trails',
	},
	right: {
		targets:
			'- name: arcs\n  aim: { azimuth: 20, altitude: 45 }\n  from: "21:30"\n  exposure: 60 s\n  frames: 20\n  gap: 2.9 s\n  stars: trails',
	},
	over: {
		targets:
			'- name: arcs\n  aim: { azimuth: 20, altitude: 45 }\n  from: "21:30"\n  exposure: 60 s\n  frames: 20\n  gap: 3 s\n  stars: trails',
	},
	each: "target",
	*find(evaluation) {
		for (const { cell, target } of eachTarget(evaluation)) {
			const { entry, limits, trailLimit, index } = target;
			const { gap = 0, frames = 1 } = entry;
			if (!isOfArcs(entry) || !limits || frames < 2 || !(limits.gap > trailLimit)) continue;
			yield {
				...at(cell, `${index}.gap`),
				message: words.message({
					gap: durationText(gap),
					moved: overLimit(limits.gap, trailLimit, 1),
					longest: longestText(limits.untracked),
					allowed: trailLimit,
				}),
			};
		}
	},
});
