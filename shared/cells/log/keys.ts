/** The keys of an entry of `log`. */

import { FIRST_METHOD } from "../../methods/methods.ts";
import {
	bodyName,
	clock,
	type Decoded,
	date,
	list,
	mapping,
	optional,
	quantity,
	reference,
	required,
	text,
	word,
} from "../../notation/shape.ts";
import { METHOD_KINDS } from "../method/keys.ts";

/** A frame whose stars were identified. */
const solvedFrame = mapping("A frame whose stars were identified", {
	at: required(clock(), { doc: "Clock time of the frame's middle.", example: '"21:30"' }),
	"right-ascension": required(quantity("right-ascension", { min: 0, max: 360 }), {
		doc: "Right ascension of the middle of the frame, J2000: degrees, or `5h 35m 17s`.",
		example: "266.41°",
	}),
	declination: required(quantity("angle", { min: -90, max: 90 }), {
		doc: "Declination of the middle of the frame, degrees, J2000.",
		example: "-29.01°",
	}),
	"position-angle": required(quantity("angle", { min: -360, max: 360 }), {
		doc: "Direction in which the top of the frame points on the sky, degrees from north through east.",
		example: "12.4°",
	}),
});

/** What happened. */
export const logEntry = mapping("What happened", {
	date: optional(date(), { doc: "The evening's date.", example: "2027-06-05", otherwise: "the plan's" }),
	at: optional(clock(), { doc: "Clock time of the frame's middle. Needed with `drift`.", example: '"21:12"' }),
	frame: optional(quantity("duration", { min: 0.001, max: 86400 }), {
		doc: "How long the frame was exposed. Needed with `drift`.",
		example: "120 s",
	}),
	method: optional(word(METHOD_KINDS), {
		doc: "Method by which the axis was set before this was measured. A constant error is found only for a scale that this method sets.",
		example: FIRST_METHOD.kind,
		otherwise: "the plan's first method",
	}),
	lens: optional(reference("lens"), { doc: "Name of the lens.", example: "wide", otherwise: "the only lens" }),
	star: optional(bodyName(), { doc: "Star whose trail was measured. Needed with `drift`.", example: "theta Scorpii" }),
	drift: optional(
		mapping("Drift of the star over the frame, as you face it: up is toward the zenith", {
			right: required(quantity("pixels", { min: -100_000, max: 100_000 }), {
				doc: "To the right, as you face the star; left is negative.",
				example: "2.5 px",
			}),
			up: required(quantity("pixels", { min: -100_000, max: 100_000 }), {
				doc: "Up, toward the zenith; down is negative.",
				example: "-6 px",
			}),
		}),
		{
			doc: "How far the star drifted from the frame's first moment to its last, camera level.",
			example: "{ right: 2.5 px, up: -6 px }",
		},
	),
	solved: optional(list(solvedFrame, { min: 2, max: 2 }), {
		doc: "Two frames whose stars were identified, taken before and after a turn of the plate, or at two times of a tracked run. The camera must not have moved on the plate in between.",
		example:
			'[{ at: "21:30", right-ascension: 266.4°, declination: -29.0°, position-angle: 12.4° }, { at: "21:50", right-ascension: 266.3°, declination: -28.8°, position-angle: 12.1° }]',
	}),
	note: optional(text(), { doc: "Anything else. An entry may be a note alone.", example: "the wind rose" }),
});

export type LogEntry = Decoded<typeof logEntry>;
export type SolvedFrame = Decoded<typeof solvedFrame>;
