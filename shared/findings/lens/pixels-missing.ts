import { cellsOf } from "../../plan/plan.ts";
import { atCell, fix, insertKey, rule } from "../finding.ts";

export default rule({
	code: "lens/pixels-missing",
	severity: "error",
	title: "How fine are the pixels?",
	about: "Trails are counted in pixels, so the lens needs the number of `pixels` of a frame, or their `pixel-pitch`.",
	wrong: { lens: "focal-length: 24 mm\nsensor: full-frame" },
	right: {},
	*find({ plan }) {
		for (const cell of cellsOf(plan, "lens")) {
			const { places, content: value } = cell.read;
			if (!value || places.has("pixels") || places.has("pixel-pitch") || !places.has("sensor")) continue;
			yield {
				...atCell(cell),
				message: "The lens needs `pixels` (`6000 x 4000`) or `pixel-pitch` (`6 µm`): trails are counted in pixels.",
				fixes: fix("Add pixels", false, insertKey(cell, "", "pixels", "6000 x 4000")),
			};
		}
	},
});
