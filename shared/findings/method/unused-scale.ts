import { hasScales } from "../../cells/tracker/tracker.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, rule } from "../finding.ts";
import { removal } from "../remove-key.ts";

const words = sentences("method/unused-scale", {
	title: "Scale given for a head without one",
	about: `The tracker is on a ball head, which has no scale for tilt or pan, so this key changes nothing. Someone who
		reads it may expect a better or worse alignment than you will get. Delete the key, or set \`head\` to one that
		has this scale. Write each method's accuracy under its own \`uncertainty\`.`,
	message: "A ball head has no scales, so `{key}` has no effect. Delete it, or change `head`.",
	delete: "Delete {key}",
});

/** Keys of the tracker that speak of a scale. */
const KEYS = ["tilt-scale", "pan-scale", "tilt-zero", "pan-zero", "zeros"] as const;

export default rule({
	code: "method/unused-scale",
	severity: "info",
	words,
	wrong: { tracker: "head: ball\ntilt-scale: ± 2°", method: "kind: phone" },
	right: [
		{ tracker: "head: ball\nlevel: ± 0.5°", method: "kind: phone" },
		{ tracker: "head: geared\ntilt-scale: ± 2°", method: "kind: phone" },
	],
	*find({ plan }) {
		for (const cell of cellsOf(plan, "tracker")) {
			if (hasScales(cell.read.content)) continue;
			// What the settings of the repository say for all heads is not written here.
			for (const key of KEYS) {
				if (!cell.read.places.has(key)) continue;
				yield {
					...at(cell, key, "key"),
					message: words.message({ key }),
					fixes: fix(words.delete({ key }), false, removal(cell, key)),
				};
			}
		}
	},
});
