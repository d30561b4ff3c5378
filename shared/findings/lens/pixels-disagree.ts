import { sentences } from "../../text/sentence.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";

const words = sentences("lens/pixels-disagree", {
	title: "Pixel pitch does not match the sensor",
	about: `The sensor's width divided by the number of pixels across it does not give the pixel pitch in the plan.
		Trails and limits are counted in pixels, so a wrong pitch makes all of them wrong by the same factor. The pitch
		is used as written. Correct whichever is wrong; the pixels of frames saved at reduced size are larger.`,
	message: `The sensor's width divided by its pixels is {fromPixels} µm, but \`pixel-pitch\` is {typed} µm, which is
		used. Correct whichever is wrong.`,
	change: "Change the pixel pitch to {pitch}",
});

export default rule({
	code: "lens/pixels-disagree",
	severity: "warning",
	words,
	wrong: { lens: "focal-length: 24 mm\nsensor: 36 x 24 mm\npixels: 6000 x 4000\npixel-pitch: 4.3 µm" },
	right: [
		{ lens: "focal-length: 24 mm\nsensor: 36 x 24 mm\npixels: 6000 x 4000\npixel-pitch: 5.7 µm" },
		{ lens: "focal-length: 24 mm\nsensor: 36 x 24 mm\npixels: 6000 x 4000\npixel-pitch: 6.29 µm" },
	],
	over: [
		{ lens: "focal-length: 24 mm\nsensor: 36 x 24 mm\npixels: 6000 x 4000\npixel-pitch: 5.69 µm" },
		{ lens: "focal-length: 24 mm\nsensor: 36 x 24 mm\npixels: 6000 x 4000\npixel-pitch: 6.31 µm" },
	],
	*find({ lenses }) {
		for (const { cell, value: lens } of lenses) {
			if (lens?.otherPitch === undefined) continue;
			const pitch = `${Number(lens.otherPitch.toFixed(3))} µm`;
			yield {
				...at(cell, "pixel-pitch"),
				message: words.message({
					fromPixels: lens.otherPitch.toFixed(2),
					typed: lens.camera.pixelPitch.toFixed(2),
				}),
				fixes: fix(words.change({ pitch }), false, replaceValue(cell, "pixel-pitch", pitch)),
			};
		}
	},
});
