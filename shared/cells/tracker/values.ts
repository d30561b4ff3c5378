/** The values of a tracker: what its scales are corrected for tonight, and what its drive does to a frame. */
import { swingTime } from "../../alignment/periodic-error.ts";
import type { CalendarDate } from "../../earth/calendar.ts";
import { type PathOf, type Value, valuesFor } from "../../notation/value.ts";
import { pixelScaleArcsec } from "../../optics/camera.ts";
import { SKY_RATE_ARCSEC } from "../../sky/frame.ts";
import { sentences, told } from "../../text/sentence.ts";
import type { EvaluatedLens } from "../lens/lens.ts";
import { type Drive, rateOf } from "./drive.ts";
import type { TrackerContent } from "./keys.ts";
import { hasScales } from "./tracker.ts";
import { zerosOn } from "./zeros.ts";

const words = sentences("value.tracker", { never: "never: the drive swings less" });

export const TRACKER_VALUES = valuesFor<PathOf<TrackerContent>>()("tracker", {
	"tilt-zero": {
		is: "side",
		places: 2,
		plus: "too much",
		minus: "too little",
		label: "Tilt scale shows",
		how: `The constant error that this evening's steps allow for: the last row of \`zeros\` up to that evening,
			otherwise \`tilt-zero\`.`,
		at: ["tilt-zero", "zeros", ""],
	},
	"pan-zero": {
		is: "side",
		places: 2,
		plus: "too far clockwise",
		minus: "too far anticlockwise",
		label: "A turn of the pan ends",
		how: `Seen from above. The constant error that this evening's steps allow for: the last row of \`zeros\` up to
			that evening, otherwise \`pan-zero\`.`,
		at: ["pan-zero", "zeros", ""],
	},
	swing: {
		is: "number",
		unit: "px",
		label: "The drive swings to either side by",
		how: "The amplitude of its periodic error divided by the pixel scale.",
		at: ["periodic-error", "periodic-error.amplitude", ""],
	},
	"swing-pixel": {
		is: "duration",
		limit: true,
		label: "Time in which the drive alone trails one pixel, at its fastest",
		how: `P/π · asin(1 px / 2A) for amplitude A and period P, half-way between two turning points; usually it takes
			longer.`,
		at: ["periodic-error", "periodic-error.amplitude", "periodic-error.period", ""],
	},
	"limit-turn": {
		is: "angle",
		label: "Longest turn before winding back",
		how: "15.04° an hour times its rate, over `turn-limit`.",
		at: ["turn-limit", ""],
	},
});

/** Values of a tracker on an evening, under each of the plan's lenses; none where nothing is known that they follow from. */
export function trackerValues(
	tracker: TrackerContent,
	{ periodicError }: Drive,
	lenses: readonly EvaluatedLens[],
	evening: CalendarDate | undefined,
): readonly Value[] {
	const values = TRACKER_VALUES;
	const zeros = evening && hasScales(tracker) ? zerosOn(tracker, evening) : undefined;
	const isKnown = (part: "tilt" | "pan"): boolean =>
		tracker[`${part}-zero`] !== undefined || (tracker.zeros ?? []).some((row) => row[part] !== undefined);
	const limit = tracker["turn-limit"];
	return [
		...(zeros && isKnown("tilt") ? [values["tilt-zero"](zeros.tilt)] : []),
		...(zeros && isKnown("pan") ? [values["pan-zero"](zeros.pan)] : []),
		...(periodicError
			? lenses.flatMap(({ camera, name: of }) => {
					const pixel = pixelScaleArcsec(camera) / 3600;
					return [
						values.swing(periodicError.amplitude / pixel, { of }),
						values["swing-pixel"](swingTime(periodicError, pixel), { of, otherwise: told(words.never()) }),
					];
				})
			: []),
		...(limit === undefined ? [] : [values["limit-turn"]((limit * rateOf(tracker) * SKY_RATE_ARCSEC) / 3600)]),
	];
}
