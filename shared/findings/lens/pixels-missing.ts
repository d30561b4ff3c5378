import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { atCell, fix, insertKey, rule } from "../finding.ts";

const words = sentences("lens/pixels-missing", {
	title: "How fine are the pixels?",
	about: "Trails are counted in pixels, so the lens needs the number of `pixels` of a frame, or their `pixel-pitch`.",
	message: "The lens needs `pixels` (`6000 x 4000`) or `pixel-pitch` (`6 µm`): trails are counted in pixels.",
	add: "Add pixels",
});

export default rule({
	code: "lens/pixels-missing",
	severity: "error",
	words,
	wrong: { lens: "focal-length: 24 mm\nsensor: full-frame" },
	right: [
		{ lens: "focal-length: 24 mm\nsensor: full-frame\npixels: 6000 x 4000" },
		{ lens: "focal-length: 24 mm\nsensor: full-frame\npixel-pitch: 6 µm" },
	],
	over: { lens: "focal-length: 24 mm\nsensor: full-frame\nprojection: rectilinear" },
	*find({ plan }) {
		for (const cell of cellsOf(plan, "lens")) {
			const { places, content: value } = cell.read;
			if (!value || places.has("pixels") || places.has("pixel-pitch") || !places.has("sensor")) continue;
			yield {
				...atCell(cell),
				message: words.message(),
				fixes: fix(words.add(), false, insertKey(cell, "", "pixels", "6000 x 4000")),
			};
		}
	},
});
