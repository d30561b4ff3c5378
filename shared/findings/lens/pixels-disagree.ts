import { at, rule } from "../finding.ts";

export default rule({
	code: "lens/pixels-disagree",
	severity: "warning",
	title: "Pixels and pixel pitch disagree",
	about:
		"The width of the sensor over its number of pixels is not the pixel pitch typed. The pitch is used. Frames saved smaller than the sensor's own size have larger pixels.",
	wrong: { lens: "focal-length: 24 mm\nsensor: 36 x 24 mm\npixels: 6000 x 4000\npixel-pitch: 4.3 µm" },
	right: {},
	*find({ lenses }) {
		for (const { cell, value: lens } of lenses) {
			if (lens?.otherPitch === undefined) continue;
			yield {
				...at(cell, "pixel-pitch"),
				message: `The sensor's width over its pixels is ${lens.otherPitch.toFixed(2)} µm, not ${lens.camera.pixelPitch.toFixed(2)} µm. The pitch typed is used; correct one of them.`,
			};
		}
	},
});
