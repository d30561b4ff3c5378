import { seriesSeconds } from "../../cells/targets/target.ts";
import { durationText, longestText } from "../../notation/duration.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { eachTarget, exposureFix, framesFix, framesIn } from "./each.ts";

const words = sentences("target/turn-limit", {
	title: "Series longer than the tracker can turn",
	about: `The tracker can turn only for a certain time (\`turn-limit\`) before it must be wound back. Winding it back
		in the middle of a series moves the frame, which you then have to find again. Shorten the series, or split it in
		two and wind back in the pause between them.`,
	message: `{name} takes {duration}, but the tracker can turn for only {limit}. Shorten the series, or split it and wind the tracker
		back in between.`,
});

export default rule({
	code: "target/turn-limit",
	severity: "warning",
	words,
	wrong: { tracker: "head: geared\nturn-limit: 10 min" },
	instead: {
		tracker: "head: geared\nturn-limit: 10 min",
		targets:
			'- name: core over the gate\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 60 s\n  frames: 9\n  gap: 5 s\n  foreground: true',
	},
	right: [
		// 20 frames of 60 s, 19 gaps of 5 s.
		{ tracker: "head: geared\nturn-limit: 1295 s" },
		{
			tracker: "head: geared\nturn-limit: 60 s",
			targets: '- name: core\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 60 s\n  foreground: true',
		},
	],
	over: [
		{ tracker: "head: geared\nturn-limit: 1294 s" },
		{
			tracker: "head: geared\nturn-limit: 60 s",
			targets: '- name: core\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 61 s\n  foreground: true',
		},
	],
	each: "target",
	*find(evaluation) {
		const limit = evaluation.tracker?.["turn-limit"];
		if (limit === undefined) return;
		for (const one of eachTarget(evaluation)) {
			const { cell, target } = one;
			const { entry, index, name, panorama } = target;
			// Of all that the plan asks for, also where the evening has no time for it.
			const seconds = panorama?.seconds ?? seriesSeconds(entry);
			if (!target.tracked || seconds <= limit) continue;
			const single = entry.frames === undefined;
			yield {
				...at(cell, `${index}.${single ? "exposure" : "frames"}`),
				message: words.message({ name, duration: durationText(seconds), limit: longestText(limit) }),
				fixes: single ? () => exposureFix(evaluation, one, () => limit) : framesFix(one, framesIn(entry, limit)),
			};
		}
	},
});
