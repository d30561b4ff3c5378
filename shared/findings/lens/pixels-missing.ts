import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { atCell, fix, insertKey, rule } from "../finding.ts";

const words = sentences("lens/pixels-missing", {
	title: "Size of the pixels unknown",
	about: `Trails are measured in pixels, so the plan must say how large a pixel is. Give either \`pixels\`, the width
		and height of a frame in pixels, from which the pitch follows with the sensor's width, or \`pixel-pitch\`
		itself. Without one of them no exposure limit can be computed. The number of pixels is in the camera's manual
		and in the properties of any full-size frame.`,
	message: `Add \`pixels\` (such as \`6000 x 4000\`) or \`pixel-pitch\` (such as \`6 µm\`): trails are measured in pixels.`,
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
