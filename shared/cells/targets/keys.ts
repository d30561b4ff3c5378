/** The keys of an entry of `targets`. */
import {
	bearing,
	bodyName,
	clock,
	type Decoded,
	either,
	flag,
	mapping,
	optional,
	quantity,
	reference,
	required,
	text,
	whole,
	word,
} from "../../notation/shape.ts";

/** What a frame is centred on. */
const aim = either(
	bodyName(),
	mapping(
		"A fixed direction",
		{
			azimuth: required(bearing(), { doc: "Bearing of the middle of the frame.", example: "95" }),
			altitude: required(quantity("angle", { min: -30, max: 90 }), {
				doc: "Altitude of the middle of the frame.",
				example: "12",
			}),
		},
		{ offered: "{ azimuth: 90, altitude: 10 }" },
	),
	mapping("A place in the sky, J2000", {
		"right-ascension": required(quantity("angle", { min: 0, max: 360 }), {
			doc: "Right ascension in degrees, J2000.",
			example: "266.4°",
		}),
		declination: required(quantity("angle", { min: -90, max: 90 }), {
			doc: "Declination in degrees, J2000.",
			example: "-29.0°",
		}),
	}),
);

/** A target. */
export const target = mapping("A target", {
	name: required(text(), { doc: "What the plan and the card call it.", example: "core over the gable" }),
	aim: required(aim, {
		doc: "What the frame is centred on: `galactic-centre`, a star, a planet, the Moon; `{ azimuth, altitude }` for a fixed direction, from which a running tracker carries the frame on with the stars; `{ right-ascension, declination }` for a place in the sky.",
		example: "galactic-centre",
	}),
	lens: optional(reference("lens"), { doc: "Name of the lens.", example: "wide", otherwise: "the only lens" }),
	at: optional(clock(), { doc: "Clock time of the first frame.", example: '"18:10"' }),
	from: optional(clock(), { doc: "Clock time of the first frame of a series. The same as `at`.", example: '"20:30"' }),
	until: optional(clock(), {
		doc: "Clock time at which the series must have ended.",
		example: '"22:00"',
		otherwise: "when the frames are done",
	}),
	exposure: required(quantity("duration", { min: 1e-5, max: 86400 }), {
		doc: "How long one frame is exposed.",
		example: "180 s",
	}),
	frames: optional(whole({ min: 1, max: 100000 }), { doc: "How many frames.", example: "12", otherwise: "1" }),
	gap: optional(quantity("duration", { min: 0, max: 86400 }), {
		doc: "Pause between two frames.",
		example: "5 s",
		otherwise: "0 s",
	}),
	trail: optional(quantity("pixels", { min: 0.01, max: 1000 }), {
		doc: "Longest trail of a star that still looks sharp to you.",
		example: "1.5 px",
		otherwise: "1.5 px",
	}),
	"sharp-above": optional(quantity("angle", { min: 0, max: 60 }), {
		doc: "Lowest altitude at which stars are to be sharp. Lower ones are dimmed and blurred by the air anyway; they count less the lower they are, and not at all 2° lower.",
		example: "10°",
		otherwise: "5°",
	}),
	stars: optional(word({ sharp: "Points: trails are kept within `trail`.", trails: "Arcs, on purpose: no limit." }), {
		doc: "What stars are to be on the frames.",
		example: "trails",
		otherwise: "sharp",
	}),
	tracked: optional(flag(), {
		doc: "Whether the tracker runs.",
		example: "false",
		otherwise: "true; false for `stars: trails`",
	}),
	opening: optional(reference("opening"), {
		doc: "Name of the opening the target must stay in.",
		example: "west window",
		otherwise: "any opening",
	}),
	orientation: optional(word({ horizontal: "Long side level.", vertical: "Long side upright." }), {
		doc: "How the frame is held.",
		example: "vertical",
		otherwise: "horizontal",
	}),
	extent: optional(quantity("angle", { min: 0.001, max: 180 }), {
		doc: "How wide the thing is on the sky, to check that it fits the frame.",
		example: "20°",
		otherwise: "not checked",
	}),
	companion: optional(flag(), {
		doc: "Whether an untracked frame of the foreground is taken too.",
		example: "true",
		otherwise: "false",
	}),
});

export type TargetEntry = Decoded<typeof target>;
export type Aim = NonNullable<TargetEntry["aim"]>;
