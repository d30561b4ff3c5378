/** The values of a log: axis errors by evening, degrees, and what all evenings have in common. */

import type { ConstantError } from "../../alignment/constant-error.ts";
import { degrees, errorDegrees } from "../../notation/angle.ts";
import { dateText } from "../../notation/clock.ts";
import { type PathOf, type Value, valuesFor } from "../../notation/value.ts";
import { type Phrase, sentences, told } from "../../text/sentence.ts";
import { zerosRow } from "../tracker/zeros.ts";
import { type Judgement, judged, toWrite } from "./judged.ts";
import type { LogEntry } from "./keys.ts";
import type { Doubt, EvaluatedLog, LogEvening } from "./log.ts";

type Path = PathOf<readonly LogEntry[]>;

const words = sentences("value.log", {
	correction: "{height} the tilt by {tilt} ± {tiltSpread}, turn the pan {side} by {pan} ± {panSpread}, facing the pole",
	raise: "raise",
	lower: "lower",
	left: "left",
	right: "right",
	farOff: "none: these drifts put the axis {error} from the pole, so something in the entries is wrong",
	hidden: "; but first check the entry of {star}, which was hidden from the site then",
	clear: "Add this error to the tracker's `zeros`.",
	unclear: "It is less than twice its ±, so chance may explain it: write nothing yet, and measure more evenings.",
	small: "The tracker corrects for it already, or it is too small to be set on a scale: there is nothing to write.",
	disagree: "Find out which evening is right before you write anything.",
	apart: "the evenings differ by {apart}: no constant error",
});

export const LOG_VALUES = valuesFor<Path>()("log", {
	"axis-error-along": {
		is: "side",
		places: 2,
		plus: "too high",
		minus: "too low",
		label: "Axis above or below the pole",
		how: "From the evening's last pair of drifts or solved frames.",
		at: [],
	},
	"axis-error-across": {
		is: "side",
		places: 2,
		plus: "to the right",
		minus: "to the left",
		label: "Axis beside the pole",
		how: "On the sky, as you face the pole, from the evening's last pair of drifts or solved frames.",
		at: [],
	},
	correction: { is: "text", label: "Correction", how: "As you face the pole.", at: [] },
	"axis-error-part": {
		is: "error",
		places: 2,
		label: "Measured component of the axis error",
		how: `In the direction (up {along}, right {across}), as you face the pole. One drift gives one component only: for
			the other measure a star six hours of hour angle away.`,
		at: [],
	},
	"tilt-zero": {
		is: "side",
		places: 2,
		plus: "too much",
		minus: "too little",
		label: "Tilt scale shows",
		how: `Weighted mean of {evenings} evenings, ± its standard error, from the first measurement after the tilt was set
			by its scale and from the correction then in force. {judged}`,
		at: [""],
	},
	"pan-zero": {
		is: "side",
		places: 2,
		plus: "too far right",
		minus: "too far left",
		label: "Pan, turned by its scale, ends",
		how: `How far beside the pole the axis ends when the pan is turned by its scale, as you face the pole. Weighted mean of
			{evenings} evenings, ± its standard error, from the first measurement after such a turn and from the correction then
			in force. {judged}`,
		at: [""],
	},
	"tracker-correction": {
		is: "text",
		label: "For the tracker's cell",
		how: "A row of `zeros` that applies from the next evening on.",
		at: [],
	},
});

const JUDGED: Readonly<Record<Judgement, () => Phrase>> = {
	clear: words.clear,
	unclear: words.unclear,
	small: words.small,
	apart: words.disagree,
};

/** Values of a log: axis errors by evening, degrees, and what all evenings have in common. */
export function logValues({ evenings, constant, next, inForce }: EvaluatedLog): readonly Value[] {
	const { tilt, pan } = constant;
	const row = toWrite(constant, inForce);
	const more = (found: ConstantError, corrected: number) => ({
		fill: { evenings: found.evenings, judged: told(JUDGED[judged(found, corrected)]()) },
		...spreadOf(found),
	});
	const spreadOf = ({ apart, spread }: ConstantError) =>
		apart === undefined ? { plusMinus: spread } : { otherwise: told(words.apart({ apart: errorDegrees(apart, 1) })) };
	const known = ({ value, apart }: ConstantError) => (apart === undefined ? value : undefined);
	return [
		...evenings.flatMap(eveningValues),
		...(tilt ? [LOG_VALUES["tilt-zero"](known(tilt), more(tilt, inForce.tilt))] : []),
		...(pan ? [LOG_VALUES["pan-zero"](known(pan), more(pan, inForce.pan))] : []),
		...(next && row ? [LOG_VALUES["tracker-correction"](zerosRow(next, row))] : []),
	];
}

function eveningValues({ date, entries, found, part, correction, doubt }: LogEvening): readonly Value[] {
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
			LOG_VALUES.correction(
				correction
					? correctionText(correction, found, doubt)
					: told(words.farOff({ error: degrees(Math.hypot(error.along, error.across)) })),
				{ of, at },
			),
		];
	}
	if (!part) return [];
	const { along, across } = part.direction;
	const fill = { along: along.toFixed(2), across: across.toFixed(2) };
	return [LOG_VALUES["axis-error-part"](part.size, { of, at, plusMinus: part.spread, fill })];
}

/** In words for hands: "raise the tilt by 0.40° ± 0.10°, turn the pan left by 0.90° ± 0.20°, facing the pole". */
const correctionText = (
	{ tilt, pan, panPerAcross }: NonNullable<LogEvening["correction"]>,
	{ spread }: NonNullable<LogEvening["found"]>,
	doubt: Doubt | undefined,
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
	) + (doubt?.why === "star-hidden" ? told(words.hidden({ star: doubt.star })) : "");
