/** The keys of a `lens` cell. */
import {
	type Decoded,
	mapping,
	number,
	optional,
	pixelCount,
	quantity,
	required,
	sensorSize,
	text,
	word,
} from "../../notation/shape.ts";
import type { Projection } from "../../optics/camera.ts";
import { TAKEN_FROM } from "../taken.ts";

/** Projections of lenses. */
export const PROJECTIONS = {
	rectilinear: "Straight lines stay straight: nearly every lens that is not a fisheye.",
	equisolid: "Most fisheyes: r = 2 f sin(θ/2).",
	equidistant: "Some fisheyes: r = f θ.",
} as const satisfies Readonly<Record<Projection, string>>;

/** A lens on a camera. */
export const lens = mapping("A lens on a camera", {
	from: TAKEN_FROM,
	name: optional(text(), {
		doc: "Name by which targets refer to it. Needed when there are several lenses.",
		example: "wide",
		otherwise: "`lens`",
	}),
	camera: optional(text(), {
		doc: "The camera it is on, where you bring several. Untracked frames on a camera of their own run beside the others.",
		example: "second",
		otherwise: "one camera for all lenses",
	}),
	"focal-length": required(quantity("focal-length", { min: 1, max: 5000 }), {
		doc: "Focal length as written on the lens, not its full-frame equivalent.",
		example: "24 mm",
	}),
	"f-number": optional(number({ min: 0.5, max: 128 }), {
		doc: "Aperture at which the frames are taken.",
		example: "2",
		otherwise: "2.8",
	}),
	sensor: required(sensorSize(), {
		doc: "Width and height of the sensor, or the name of a format: `full-frame`, `aps-c`, `micro-four-thirds`, `medium-format-44x33`, `one-inch`.",
		example: "36 x 24 mm",
	}),
	pixels: optional(pixelCount(), {
		doc: "Width and height of a frame in pixels. This or `pixel-pitch`.",
		example: "6000 x 4000",
		otherwise: "from the pixel pitch",
	}),
	"pixel-pitch": optional(quantity("pixel-pitch", { above: 0.3, max: 100 }), {
		doc: "Distance between neighbouring pixels. This or `pixels`.",
		example: "6 µm",
		otherwise: "from the sensor and its pixels",
	}),
	projection: optional(word(PROJECTIONS), {
		doc: "How the lens maps angles to the frame.",
		example: "rectilinear",
		otherwise: "rectilinear",
	}),
});

export type LensContent = Decoded<typeof lens>;
