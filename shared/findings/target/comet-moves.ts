import { cometSmear } from "../../cells/targets/comet-values.ts";
import { exposureText } from "../../notation/duration.ts";
import { overLimit } from "../../notation/over-limit.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";
import { settableText } from "./settable.ts";

const words = sentences("target/comet-moves", {
	title: "Comet moves during an exposure",
	about: `A tracker follows the stars, and a comet moves among them: usually by a few arcseconds a minute, and by much
		more when it is near Earth. If it moves by more than \`trail\` during one exposure, its head becomes a dash.
		Expose for a shorter time and take more frames; they can be stacked once on the stars and once on the comet.`,
	message: `In {exposure} {comet} moves by {smear} px against the stars; the plan allows {limit} px. Expose for {most}
		at most, and take more frames.`,
});

const comet = (exposure: string): string =>
	`- name: comet over the gate\n  aim: { comet: "    CK27X010  2027 06 05.0000  1.150000  1.000000  106.0000    0.0000  170.0000  20270601   6.0  4.0  C/2027 X1 (invented)" }\n  from: "21:30"\n  exposure: ${exposure}`;

const LENS = "focal-length: 135 mm\nf-number: 2\nsensor: full-frame\npixels: 6000 x 4000";

export default rule({
	code: "target/comet-moves",
	severity: "info",
	words,
	wrong: { lens: LENS, targets: comet("60 s") },
	instead: { lens: LENS, targets: comet("20 s") },
	right: { lens: LENS, targets: comet("33 s") },
	over: { lens: LENS, targets: comet("34 s") },
	each: "target",
	*find(evaluation) {
		for (const { cell, target } of eachTarget(evaluation)) {
			const { body, index, entry, trailLimit, tracked } = target;
			const smear = tracked ? cometSmear(target) : undefined;
			if (body?.type !== "comet" || smear === undefined || smear <= trailLimit) continue;
			const exposure = entry.exposure ?? 0;
			yield {
				...at(cell, `${index}.exposure`),
				message: words.message({
					exposure: exposureText(exposure),
					comet: body.name,
					smear: overLimit(smear, trailLimit, 1),
					limit: trailLimit,
					most: settableText(Math.floor((exposure * trailLimit) / smear)),
				}),
			};
		}
	},
});
