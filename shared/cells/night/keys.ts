/** The keys of a `night` cell: its date, the clock times of arriving and leaving, how dark it must be. */
import { clock, type Decoded, date, mapping, optional, quantity, required } from "../../notation/shape.ts";
import { TAKEN_FROM } from "../taken.ts";

/** Up to a day. */
const span = quantity("duration", { min: 0, max: 86400 });

/** How long what comes before and after the frames takes. */
const prepare = mapping("Times needed before and after the frames", {
	"walk-in": optional(span, {
		doc: "From the car to the spot, before `arrive`.",
		example: "25 min",
		otherwise: "0 min",
	}),
	"set-up": optional(span, {
		doc: "Setting up tripod, tracker and camera, roughly framed.",
		example: "15 min",
		otherwise: "15 min (common practice)",
	}),
	focus: optional(span, {
		doc: "Focusing, by daylight, on a distant light or on a bright star.",
		example: "5 min",
		otherwise: "5 min (common practice)",
	}),
	"pack-up": optional(span, {
		doc: "Packing up, before `leave`.",
		example: "10 min",
		otherwise: "10 min (common practice)",
	}),
	"walk-out": optional(span, {
		doc: "Back to the car, after `leave`.",
		example: "30 min",
		otherwise: "1.25 times the walk in",
	}),
});

/** Keys that say how dark it has to be; `otherwise`: what holds without them. */
export const darkKeys = (otherwise: { readonly sunBelow: string; readonly moonAllowed: string }) => ({
	"sun-below": optional(quantity("angle", { min: 0, max: 30 }), {
		doc: "How far the Sun must be below the horizon for the sky to count as dark.",
		example: "18°",
		otherwise: otherwise.sunBelow,
	}),
	"moon-allowed": optional(quantity("share", { min: 0, max: 100 }), {
		doc: "Moon illumination up to which moonlight does no harm.",
		example: "15 %",
		otherwise: otherwise.moonAllowed,
	}),
});

const dark = darkKeys({
	sunBelow: "18° (astronomical twilight)",
	moonAllowed: "10 % (common practice): a thin crescent does no harm",
});

const preparing = optional(prepare, {
	doc: "How long setting up, focusing, packing up and the walks take.",
	example: "{ walk-in: 25 min, set-up: 20 min }",
	otherwise: "set-up 15 min, focus 5 min, pack-up 10 min (common practice)",
});

/** Keys that the settings may say for all plans. */
export const NIGHT_DEFAULTS = { prepare: preparing, ...dark };

/** The night. */
export const night = mapping("The night", {
	from: TAKEN_FROM,
	date: required(date(), {
		doc: "The evening's date, `YYYY-MM-DD`. Times before noon belong to the next morning.",
		example: "2027-06-05",
	}),
	arrive: optional(clock(), { doc: "Clock time of arriving at the spot.", example: '"17:00"', otherwise: "noon" }),
	leave: optional(clock(), {
		doc: "Clock time of leaving the spot.",
		example: '"02:00"',
		otherwise: "noon of the next day",
	}),
	...dark,
	"low-water": optional(clock(), {
		doc: "Clock time of low water, from the local tide table. By the sea, walk in while the water falls.",
		example: '"22:40"',
		otherwise: "not known",
	}),
	prepare: preparing,
});

export type NightContent = Decoded<typeof night>;
