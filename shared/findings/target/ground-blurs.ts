import { overLimit } from "../../notation/over-limit.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, insertKey, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";

/** Part of a frame from which on the ground in it matters. */
const GROUND = 0.03;

const words = sentences("target/ground-blurs", {
	title: "Foreground blurred by tracking",
	about: `While the tracker follows the stars, the camera turns against the ground, so the foreground blurs even if
		the stars stay sharp. The usual answer is a second frame with the same framing and the tracker switched off,
		blended with the tracked one later. Plan it with \`foreground: true\`; this finding then disappears.`,
	message: `The ground is in the frame and trails by up to {trail} px in one exposure; the plan allows {allowed} px. Take a
		foreground frame with the tracker switched off.`,
	plan: "Plan a foreground frame",
});

export default rule({
	code: "target/ground-blurs",
	severity: "info",
	words,
	wrong: {
		targets:
			'- name: core over the gate\n  aim: galactic-centre\n  from: "19:30"\n  exposure: 60 s\n  frames: 20\n  trail: 2 px',
	},
	instead: {
		targets:
			'- name: core over the gate\n  aim: galactic-centre\n  from: "19:30"\n  exposure: 60 s\n  frames: 20\n  trail: 2 px\n  foreground: true',
	},
	right: [
		{ targets: '- name: core\n  aim: galactic-centre\n  from: "19:40"\n  exposure: 6.8 s\n  trail: 2 px' },
		{ targets: '- name: core\n  aim: galactic-centre\n  from: "22:34"\n  exposure: 60 s\n  trail: 2 px' },
	],
	over: [
		{ targets: '- name: core\n  aim: galactic-centre\n  from: "19:40"\n  exposure: 6.9 s\n  trail: 2 px' },
		{ targets: '- name: core\n  aim: galactic-centre\n  from: "22:33"\n  exposure: 60 s\n  trail: 2 px' },
	],
	each: "target",
	*find(evaluation) {
		for (const { cell, target } of eachTarget(evaluation)) {
			const { limits, entry, index, trailLimit } = target;
			if (!target.tracked || !limits || entry.foreground || limits.ground <= trailLimit) continue;
			// What is hidden at one corner of a grid of the frame may be a branch: a few per cent of it are ground.
			if (!(target.frames?.() ?? []).some(({ hidden }) => hidden > GROUND)) continue;
			yield {
				...at(cell, `${index}.name`),
				message: words.message({ trail: overLimit(limits.ground, trailLimit, 1), allowed: trailLimit }),
				fixes: fix(words.plan(), false, insertKey(cell, `${index}`, "foreground", true)),
			};
		}
	},
});
