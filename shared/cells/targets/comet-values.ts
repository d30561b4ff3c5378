/** The values of a comet that is aimed at: how far it is, how it moves, how old its elements are. */

import { degrees } from "../../notation/angle.ts";
import { type PathOf, type Value, valuesFor } from "../../notation/value.ts";
import { pixelScaleArcsec } from "../../optics/camera.ts";
import { cometState, dayOfElements } from "../../sky/comet.ts";
import { daysSinceJ2000 } from "../../sky/frame.ts";
import { sentences, told } from "../../text/sentence.ts";
import type { TargetEntry } from "./keys.ts";
import type { EvaluatedTarget } from "./target.ts";

const words = sentences("value.comet", {
	comet: "{name}: comet, {away} from the Sun in the sky, {fromSun} au from the Sun, {fromEarth} au from Earth",
});

const AIMED = ["aim", "name"] as const;

export const COMET_VALUES = valuesFor<PathOf<TargetEntry>>()("target", {
	comet: {
		is: "text",
		label: "What it is",
		how: "Two-body motion from the elements, light time included, half-way through the frames.",
		at: AIMED,
	},
	"comet-elongation": {
		is: "angle",
		label: "Angle from the Sun",
		how: "As seen from Earth, half-way through the frames.",
		at: AIMED,
	},
	"comet-sun-distance": {
		is: "number",
		unit: "au",
		places: 2,
		label: "Distance from the Sun",
		how: "Half-way through the frames.",
		at: AIMED,
	},
	"comet-earth-distance": {
		is: "number",
		unit: "au",
		places: 2,
		label: "Distance from Earth",
		how: "Half-way through the frames.",
		at: AIMED,
	},
	"comet-motion": {
		is: "number",
		unit: "″/min",
		places: 1,
		label: "Motion against the stars",
		how: "Half-way through the frames.",
		at: AIMED,
	},
	"comet-motion-pixels": {
		is: "number",
		unit: "px",
		places: 1,
		label: "Motion against the stars in one exposure",
		how: "In the middle of the frame. On a frame that follows the stars, the comet's head is this long.",
		at: ["aim", "name", "exposure"],
	},
	"comet-elements-age": {
		is: "number",
		unit: "d",
		places: 0,
		label: "Age of the orbital elements",
		how: "Days from the epoch of the elements to the night; if they give no epoch, from the perihelion.",
		at: AIMED,
	},
});

const values = COMET_VALUES;

/** Days between the day that a comet's elements are of and a moment; undefined where no comet is aimed at. */
export function ageOfElements({ body, series }: Pick<EvaluatedTarget, "body" | "series">): number | undefined {
	return body?.type === "comet" ? Math.abs(daysSinceJ2000(series.from) - dayOfElements(body.elements)) : undefined;
}

/** Pixels by which a comet moves against the stars in one exposure, in the middle of the frame. */
export function cometSmear({ body, series, entry, lens }: EvaluatedTarget): number | undefined {
	if (body?.type !== "comet" || !lens || entry.exposure === undefined) return undefined;
	const { motion } = cometState(body.elements, (series.from + series.until) / 2);
	return (motion * (entry.exposure / 60)) / pixelScaleArcsec(lens.camera);
}

/** None where no comet is aimed at. */
export function cometValues(target: EvaluatedTarget): readonly Value[] {
	const { body, series, name: of } = target;
	if (body?.type !== "comet") return [];
	const { fromSun, fromEarth, elongation, motion } = cometState(body.elements, (series.from + series.until) / 2);
	const smear = cometSmear(target);
	return [
		values.comet(
			told(
				words.comet({
					name: body.name,
					away: degrees(elongation, 0),
					fromSun: fromSun.toFixed(2),
					fromEarth: fromEarth.toFixed(2),
				}),
			),
			{ of },
		),
		values["comet-elongation"](elongation, { of }),
		values["comet-sun-distance"](fromSun, { of }),
		values["comet-earth-distance"](fromEarth, { of }),
		values["comet-motion"](motion, { of }),
		...(smear === undefined ? [] : [values["comet-motion-pixels"](smear, { of })]),
		values["comet-elements-age"](ageOfElements(target), { of }),
	];
}
