/** The keys of a `tracker` cell: the tracker, its head, and how well they are set. */
import { type Decoded, date, list, mapping, optional, quantity, required, text, word } from "../../notation/shape.ts";
import { TAKEN_FROM } from "../taken.ts";

/** Heads under a tracker. */
export const HEADS = {
	geared: "Geared head: scales for tilt and pan, moves one axis at a time.",
	"pan-tilt": "Pan-tilt head: scales for tilt and pan.",
	wedge: "Wedge: scales for tilt and pan, made for trackers.",
	ball: "Ball head: no scales, and it moves in all directions at once when loosened.",
} as const;

/** Constant errors from an evening on. */
const zeros = mapping("Constant errors of the scales, in force from a certain evening", {
	since: required(date(), { doc: "The first evening on which the steps correct for them.", example: "2027-06-05" }),
	tilt: optional(quantity("angle", { min: -45, max: 45 }), {
		doc: "What the tilt scale shows minus the true tilt.",
		example: "0.6°",
		otherwise: "as before",
	}),
	pan: optional(quantity("angle", { min: -45, max: 45 }), {
		doc: "How far past its goal a turn of the pan by its scale ends; clockwise, seen from above, is positive.",
		example: "0.9°",
		otherwise: "as before",
	}),
});

/** How well it is set: keys that the settings may say for all plans. */
export const TRACKER_DEFAULTS = {
	"tilt-scale": optional(quantity("angle", { min: 0, max: 45 }), {
		doc: `How accurately the tilt is set, one standard deviation (two settings in three are closer): scale,
			levelling fore and aft, sag.`,
		example: "± 1°",
		otherwise: "± 1° (common practice)",
	}),
	level: optional(quantity("angle", { min: 0, max: 45 }), {
		doc: "How level the head is set, sideways and fore and aft, one standard deviation.",
		example: "± 0.3°",
		otherwise: "± 0.3° (common practice)",
	}),
	"pan-scale": optional(quantity("angle", { min: 0, max: 45 }), {
		doc: "How accurately a turn of the pan is read, one standard deviation.",
		example: "± 1°",
		otherwise: "± 1° (common practice)",
	}),
};

/** The tracker and its head. */
export const tracker = mapping("The tracker and its head", {
	from: TAKEN_FROM,
	name: optional(text(), { doc: "What you call it.", example: "the small tracker", otherwise: "`tracker`" }),
	head: optional(word(HEADS), { doc: "Head under the tracker.", example: "geared", otherwise: "geared" }),
	rate: optional(
		word({
			sidereal: "Follows the stars.",
			half: "Half the stars' rate: sky and ground both trail, half as much each.",
		}),
		{
			doc: "Rate at which it turns.",
			example: "sidereal",
			otherwise: "sidereal",
		},
	),
	...TRACKER_DEFAULTS,
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
			doc: "How far the drive swings slowly back and forth about the true rate.",
			example: "{ amplitude: 40 arcsec, period: 10 min }",
			otherwise: "none",
		},
	),
	"turn-limit": optional(quantity("duration", { min: 1, max: 86400 }), {
		doc: "How long it can run before it must be wound back.",
		example: "2 h",
		otherwise: "no limit",
	}),
	zeros: optional(list(zeros, { max: 100 }), {
		doc: "Constant errors of the scales, found from the log, each with the first evening on which the steps correct for it.",
		example: "[{ since: 2027-06-05, tilt: 0.6°, pan: 0.9° }]",
		otherwise: "`tilt-zero` and `pan-zero` on every evening",
	}),
	"tilt-zero": optional(quantity("angle", { min: -45, max: 45 }), {
		doc: "Constant error of the tilt scale on every evening before the first row of `zeros`: what it shows minus the true tilt.",
		example: "0.4°",
		otherwise: "0°",
	}),
	"pan-zero": optional(quantity("angle", { min: -45, max: 45 }), {
		doc: "Constant error of a turn of the pan on every evening before the first row of `zeros`; clockwise, seen from above, is positive.",
		example: "-0.8°",
		otherwise: "0°",
	}),
});

export type TrackerContent = Decoded<typeof tracker>;
