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

/** Bounds within which every place of the frame belongs to one direction. */
export const DISTORTION_WITHIN = { k1: { min: -0.1, max: 0.2 }, k2: { min: -0.015, max: 0.1 } } as const;

/** A lens on a camera. */
export const lens = mapping("A lens on a camera", {
	from: TAKEN_FROM,
	name: optional(text(), {
		doc: "Name by which targets refer to it. Needed when there are several lenses.",
		example: "wide",
		otherwise: "`lens`",
	}),
	camera: optional(text(), {
		doc: "The camera it is on, if you bring several. Untracked frames on a second camera can run at the same time.",
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
	distortion: optional(
		mapping("Radial distortion", {
			k1: optional(number(DISTORTION_WITHIN.k1), {
				doc: "Main term: below 0 barrel, above 0 pincushion. `k1` and `k2` together are the distortion at the corner.",
				example: "-0.02",
				otherwise: "0",
			}),
			k2: optional(number(DISTORTION_WITHIN.k2), {
				doc: "Second term, which counts toward the corners.",
				example: "0.004",
				otherwise: "0",
			}),
		}),
		{
			doc: "How far the lens departs from its projection: with ρ the distance from the middle over half the diagonal, an image lies at r (1 + k1 ρ² + k2 ρ⁴). Measured from frames of stars by `lodebook measure`.",
			example: "{ k1: -0.02, k2: 0.004 }",
			otherwise: "none",
		},
	),
});

export type LensContent = Decoded<typeof lens>;
