/** The values of a lens: fields in degrees, scales, untracked limits in seconds. */
import { type PathOf, type Value, valuesFor } from "../../notation/value.ts";
import { cropFactor, fieldAcross, pixelScaleArcsec } from "../../optics/camera.ts";
import { npfFull, npfSimple, rateLimit, rule500 } from "../../optics/untracked.ts";
import type { LensContent } from "./keys.ts";
import type { EvaluatedLens } from "./lens.ts";

export const LENS_VALUES = valuesFor<PathOf<LensContent>>()("lens", {
	"field-of-view-horizontal": {
		is: "angle",
		label: "Field of view, long side",
		how: "2 atan(width / 2f), {projection} lens, with its distortion where the plan gives one.",
		at: ["focal-length", "sensor", "distortion", ""],
	},
	"field-of-view-vertical": {
		is: "angle",
		label: "Field of view, short side",
		how: "2 atan(height / 2f), {projection} lens, with its distortion where the plan gives one.",
		at: ["focal-length", "sensor", "distortion", ""],
	},
	"pixel-scale": {
		is: "number",
		unit: "″/px",
		places: 2,
		label: "Pixel scale",
		how: "206 265″ · pixel pitch / focal length, in the middle of the frame.",
		at: ["focal-length", "sensor", "pixels", "pixel-pitch", ""],
	},
	"pixel-pitch": {
		is: "number",
		unit: "µm",
		places: 2,
		label: "Pixel pitch",
		how: "Sensor width divided by its pixels, or as the plan says.",
		at: ["pixels", "pixel-pitch", ""],
	},
	"crop-factor": {
		is: "number",
		unit: "×",
		places: 2,
		label: "Crop factor",
		how: "43.27 mm divided by the sensor's diagonal.",
		at: ["sensor", ""],
	},
	"untracked-500": {
		is: "duration",
		limit: true,
		label: "Untracked, 500 rule",
		how: "500 / (focal length · crop factor); stars trail over several pixels.",
		at: ["focal-length", ""],
	},
	"untracked-npf": {
		is: "duration",
		limit: true,
		label: "Untracked, simple NPF rule",
		how: "(35 N + 30 p) / f, whatever the declination.",
		at: ["focal-length", "f-number", ""],
	},
	"untracked-npf-full": {
		is: "duration",
		limit: true,
		label: "Untracked, full NPF rule, at the celestial equator",
		how: "(16.856 N + 0.0997 f + 13.713 p) / (f cos δ) for δ = 0: one pixel, the Airy disc and 1.5″ of seeing.",
		at: ["focal-length", "f-number", ""],
	},
	"untracked-pixel": {
		is: "duration",
		limit: true,
		label: "Untracked, one pixel at the celestial equator",
		how: "Pixel scale / 15.041″ per second.",
		at: ["focal-length", "pixels", "pixel-pitch", ""],
	},
});

/** Values of a lens: fields in degrees, scales, untracked limits in seconds. */
export function lensValues({ camera, name: of }: EvaluatedLens): readonly Value[] {
	const [width, height] = camera.sensor;
	const fill = { projection: camera.projection };
	const values = LENS_VALUES;
	return [
		values["field-of-view-horizontal"](fieldAcross(camera, width), { of, fill }),
		values["field-of-view-vertical"](fieldAcross(camera, height), { of, fill }),
		values["pixel-scale"](pixelScaleArcsec(camera), { of }),
		values["pixel-pitch"](camera.pixelPitch, { of }),
		values["crop-factor"](cropFactor(camera), { of }),
		values["untracked-500"](rule500(camera), { of }),
		values["untracked-npf"](npfSimple(camera), { of }),
		values["untracked-npf-full"](npfFull(camera, 0), { of }),
		values["untracked-pixel"](rateLimit(camera, 0, 1), { of }),
	];
}
