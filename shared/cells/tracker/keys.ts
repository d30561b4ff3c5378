/** The keys of a `tracker` cell: the tracker, its head, and how well they are set. */
import { type Decoded, mapping, optional, path, quantity, required, text, word } from "../../notation/shape.ts";

/** Heads under a tracker. */
export const HEADS = {
	geared: "Geared head: scales for tilt and pan, moves one axis at a time.",
	"pan-tilt": "Pan-tilt head: scales for tilt and pan.",
	wedge: "Wedge: scales for tilt and pan, made for trackers.",
	ball: "Ball head: no scales, and it moves every way at once when loosened.",
} as const;

/** The tracker and its head. */
export const tracker = mapping("The tracker and its head", {
	from: optional(path(), {
		doc: "Another plan whose cell of this kind is taken; keys of this cell override. A relative path inside the workspace.",
		example: "../stands/chapel.lode.yaml",
		otherwise: "nothing is taken",
	}),
	name: optional(text(), { doc: "What you call it.", example: "the small tracker", otherwise: "`tracker`" }),
	head: optional(word(HEADS), { doc: "What the tracker stands on.", example: "geared", otherwise: "geared" }),
	rate: optional(
		word({ sidereal: "Follows the stars.", half: "Half the stars' rate: sky and ground both trail a little." }),
		{
			doc: "Rate it turns at.",
			example: "sidereal",
			otherwise: "sidereal",
		},
	),
	"tilt-scale": optional(quantity("angle", { min: 0, max: 45 }), {
		doc: "How well the tilt is set, one standard deviation: scale, levelling fore and aft, sag.",
		example: "± 1°",
		otherwise: "± 1° (common practice)",
	}),
	level: optional(quantity("angle", { min: 0, max: 45 }), {
		doc: "How level the head is set, sideways and fore and aft, one standard deviation.",
		example: "± 0.3°",
		otherwise: "± 0.3° (common practice)",
	}),
	"pan-scale": optional(quantity("angle", { min: 0, max: 45 }), {
		doc: "How well a turn of the pan is read, one standard deviation.",
		example: "± 1°",
		otherwise: "± 1° (common practice)",
	}),
	"periodic-error": optional(
		mapping("Periodic error of the drive", {
			amplitude: required(quantity("angle", { min: 0, max: 5 }), {
				doc: "Half of peak to peak.",
				example: "40 arcsec",
			}),
			period: required(quantity("duration", { min: 1, max: 86400 }), {
				doc: "One turn of the worm.",
				example: "10 min",
			}),
		}),
		{
			doc: "The drive's slow swing to and fro about the true rate.",
			example: "{ amplitude: 40 arcsec, period: 10 min }",
			otherwise: "none",
		},
	),
	"turn-limit": optional(quantity("duration", { min: 1, max: 86400 }), {
		doc: "How long it can run before it must be turned back.",
		example: "2 h",
		otherwise: "no limit",
	}),
	"tilt-zero": optional(quantity("angle", { min: -45, max: 45 }), {
		doc: "Constant error of the tilt scale, found from the log: what the scale shows less the true tilt.",
		example: "0.4°",
		otherwise: "0°",
	}),
	"pan-zero": optional(quantity("angle", { min: -45, max: 45 }), {
		doc: "Constant error of the bearing set, found from the log, clockwise positive.",
		example: "-0.8°",
		otherwise: "0°",
	}),
});

export type TrackerContent = Decoded<typeof tracker>;
