import { sentences } from "../../text/sentence.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";

const words = sentences("lens/pixels-disagree", {
	title: "Pixel pitch does not match the sensor",
	about: `The width of the sensor divided by its number of pixels is not the pixel pitch in the plan. Trails and
		limits are counted in pixels, so a wrong pitch makes them all wrong by the same factor. The pitch in the plan is
		used. Correct the wrong value; frames saved at reduced size have larger pixels.`,
	message: `The sensor's width divided by its pixels is {fromPixels} µm, but \`pixel-pitch\` is {typed} µm. The latter is
		used; correct one of them.`,
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
