/** The values of a log: axis errors by evening, degrees, and what all evenings have in common. */

import { degrees } from "../../notation/angle.ts";
import { dateText } from "../../notation/clock.ts";
import { type PathOf, type Value, valuesFor } from "../../notation/value.ts";
import { sentences, told } from "../../text/sentence.ts";
import type { LogEntry } from "./keys.ts";
import type { EvaluatedLog, LogEvening } from "./log.ts";

type Path = PathOf<readonly LogEntry[]>;

const words = sentences("value.log", {
	correction: "{height} tilt {tilt} ± {tiltSpread}, pan {side} {pan} ± {panSpread}",
	raise: "raise",
	lower: "lower",
	left: "left",
	right: "right",
	tracker: "tilt-zero: {tilt}, pan-zero: {pan}",
});

export const LOG_VALUES = valuesFor<Path>()("log", {
	"axis-error-along": {
		is: "error",
		places: 2,
		label: "Axis too high by",
		how: "From the evening's drifts or solved frames; too low negative.",
		at: [],
	},
	"axis-error-across": {
		is: "error",
		places: 2,
		label: "Axis clockwise of the pole by",
		how: "On the sky, from the evening's drifts or solved frames.",
		at: [],
	},
	correction: { is: "text", label: "Correct by", how: "Facing the pole.", at: [] },
	"axis-error-part": {
		is: "error",
		places: 2,
		label: "Part of the axis error that shows",
		how: `Toward (along {along}, across {across}). One drift cannot tell the other part: measure a star six hours of
			hour angle away.`,
		at: [],
	},
	"tilt-zero": {
		is: "error",
		places: 2,
		label: "Tilt scale shows too much by",
		how: "Mean of {evenings} evenings, ± the spread of the mean. Write it to the tracker as tilt-zero.",
		at: [""],
	},
	"pan-zero": {
		is: "error",
		places: 2,
		label: "Bearing set too far clockwise by",
		how: "Mean of {evenings} evenings, ± the spread of the mean. Write it to the tracker as pan-zero.",
		at: [""],
	},
	"tracker-correction": {
		is: "text",
		label: "For the tracker's cell",
		how: "Mean of {evenings} evenings, ± the spread of the mean.",
		at: [],
	},
});

/** Values of a log: axis errors by evening, degrees, and what all evenings have in common. */
export function logValues({ evenings, constant }: EvaluatedLog): readonly Value[] {
	const found = evenings.flatMap(eveningValues);
	if (!constant) return found;
	const { tiltZero, tiltSpread, panZero, panSpread } = constant;
	const fill = { evenings: constant.evenings };
	const both = told(words.tracker({ tilt: degrees(tiltZero, 2), pan: degrees(panZero, 2) }));
	return [
		...found,
		LOG_VALUES["tilt-zero"](tiltZero, { plusMinus: tiltSpread, fill }),
		LOG_VALUES["pan-zero"](panZero, { plusMinus: panSpread, fill }),
		LOG_VALUES["tracker-correction"](both, { fill }),
	];
}

function eveningValues({ date, entries, found, part, correction }: LogEvening): readonly Value[] {
	const of = dateText(date);
	const at = entries.flatMap((index): readonly Path[] => [
		`${index}`,
		`${index}.drift`,
		`${index}.star`,
		`${index}.solved`,
		`${index}.at`,
	]);
	if (found) {
		const { error, spread } = found;
		return [
			LOG_VALUES["axis-error-along"](error.along, { of, at, plusMinus: spread.along }),
			LOG_VALUES["axis-error-across"](error.across, { of, at, plusMinus: spread.across }),
			LOG_VALUES.correction(correction ? correctionText(correction, found) : "", { of, at }),
		];
	}
	if (!part) return [];
	const { along, across } = part.direction;
	const fill = { along: along.toFixed(2), across: across.toFixed(2) };
	return [LOG_VALUES["axis-error-part"](part.size, { of, at, plusMinus: part.spread, fill })];
}

/** In words for hands: "raise tilt 0.4° ± 0.1°, pan left 0.9° ± 0.2°". */
const correctionText = (
	{ tilt, pan, panPerAcross }: NonNullable<LogEvening["correction"]>,
	{ spread }: NonNullable<LogEvening["found"]>,
): string =>
	told(
		words.correction({
			height: tilt < 0 ? words.lower() : words.raise(),
			tilt: degrees(Math.abs(tilt), 2),
			tiltSpread: degrees(spread.along, 2),
			side: pan < 0 ? words.left() : words.right(),
			pan: degrees(Math.abs(pan), 2),
			panSpread: degrees(spread.across * panPerAcross, 2),
		}),
	);
