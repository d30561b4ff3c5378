import type { ConstantError } from "../../alignment/constant-error.ts";
import { judged, SCALED, toWrite } from "../../cells/log/judged.ts";
import { hundredths, zerosRow } from "../../cells/tracker/zeros.ts";
import type { Evaluation } from "../../evaluate/evaluate.ts";
import type { ScaledPart } from "../../methods/method.ts";
import { errorDegrees } from "../../notation/angle.ts";
import { dateText } from "../../notation/date.ts";
import { cellsOf } from "../../plan/plan.ts";
import { listText } from "../../text/list.ts";
import { asYaml } from "../../text/scalar.ts";
import { type Phrase, sentences, told } from "../../text/sentence.ts";
import { appendCell, appendItem, atCell, type Edit, fix, rule, setKey } from "../finding.ts";

const words = sentences("log/constant-error", {
	title: "Scale is off by the same amount every evening",
	about: `Evening after evening in the log a scale was off in the same direction, by more than chance explains and
		more than the tracker's \`zeros\` already correct. Only the first measurement after setting a scale counts,
		with that evening's correction taken into account. Add a row of \`zeros\` to the tracker: from its date on the
		steps allow for the error, and earlier measurements stay valid.`,
	message: "According to the log, {parts}. Add a row of `zeros` to the tracker, valid from {since} on.",
	tilt: "the tilt scale reads {size} ± {spread} too {way} over {evenings} evenings (already corrected: {known})",
	pan: `the pan, turned by its scale, ends {size} ± {spread} too far {way}, seen from above, over {evenings} evenings
		(already corrected: {known})`,
	much: "high",
	little: "low",
	clockwise: "clockwise",
	anticlockwise: "anticlockwise",
	nothing: "nothing",
	known: "{size} too {way}",
	knownPan: "{size} too far {way}",
	write: "Add a row of zeros to the tracker",
});

/** How what was found is said of each scale, positive and negative. */
const SAID = {
	tilt: { say: words.tilt, known: words.known, ways: [words.much(), words.little()] },
	pan: { say: words.pan, known: words.knownPan, ways: [words.clockwise(), words.anticlockwise()] },
} as const;

/** Two evenings, the second of which measured a drift of `up` pixels. */
const twoEvenings = (up: number): string =>
	`- { date: 2027-06-01, at: "23:30", frame: 600 s, star: Antares, drift: { right: 0 px, up: 6 px }, method: sky-bearing }
- { date: 2027-06-01, at: "21:00", frame: 600 s, star: Regulus, drift: { right: 0 px, up: 0 px }, method: sky-bearing }
- { date: 2027-06-02, at: "23:30", frame: 600 s, star: Antares, drift: { right: 0 px, up: ${up} px }, method: sky-bearing }
- { date: 2027-06-02, at: "21:00", frame: 600 s, star: Regulus, drift: { right: 0 px, up: 0 px }, method: sky-bearing }`;

/** A tracker whose scales are corrected for from the evening after these on. */
const corrected = (pan: string): string => `head: geared\nzeros: [{ since: 2027-06-03, tilt: -0.85°, pan: ${pan} }]`;

export default rule({
	code: "log/constant-error",
	severity: "info",
	words,
	wrong: {
		tracker: "head: geared",
		log: `- { date: 2027-06-01, at: "23:30", frame: 600 s, star: Antares, drift: { right: 0 px, up: 6 px }, method: sky-bearing }
- { date: 2027-06-01, at: "21:00", frame: 600 s, star: Regulus, drift: { right: 7 px, up: 0 px }, method: sky-bearing }
- { date: 2027-06-02, at: "23:30", frame: 600 s, star: Antares, drift: { right: 0 px, up: 6 px }, method: sky-bearing }
- { date: 2027-06-02, at: "21:00", frame: 600 s, star: Regulus, drift: { right: 7 px, up: 0 px }, method: sky-bearing }`,
	},
	instead: { tracker: corrected("0.61°"), log: twoEvenings(6) },
	right: [{ log: twoEvenings(1.8) }, { tracker: corrected("0.46°"), log: twoEvenings(6) }],
	over: [{ log: twoEvenings(1.9) }, { tracker: corrected("0.45°"), log: twoEvenings(6) }],
	*find(evaluation) {
		const { plan, log } = evaluation;
		const cell = cellsOf(plan, "log")[0];
		const { constant, inForce, next } = log?.value ?? {};
		if (!cell || !constant || !inForce || !next) return;
		const clear = SCALED.flatMap((part) => {
			const found = constant[part];
			return found && judged(found, inForce[part]) === "clear" ? [{ part, found }] : [];
		});
		const zeros = toWrite(constant, inForce);
		if (!zeros) return;
		const row = zerosRow(next, zeros);
		yield {
			...atCell(cell),
			message: words.message({
				parts: listText(clear.map(({ part, found }) => told(saidOf(part, found, inForce[part])))),
				since: dateText(next),
			}),
			fixes: () => fix(words.write(), false, rowEdit(evaluation, row)),
		};
	},
});

function saidOf(part: ScaledPart, { value, spread, evenings }: ConstantError, known: number): Phrase {
	const { say, known: sayKnown, ways } = SAID[part];
	const sized = (degrees: number) => ({
		size: errorDegrees(Math.abs(degrees), 2),
		way: degrees < 0 ? ways[1] : ways[0],
	});
	return say({
		...sized(value),
		spread: errorDegrees(spread, 2),
		evenings,
		known: hundredths(known) === 0 ? words.nothing() : sayKnown(sized(known)),
	});
}

/** Puts a row behind those that are there, taken from another plan or not. */
function rowEdit({ plan, tracker }: Evaluation, row: string): Edit | undefined {
	const cell = cellsOf(plan, "tracker")[0];
	if (!cell) return appendCell(plan, `tracker:\n  zeros: [${row}]`);
	if (cell.read.places.has("zeros.0")) return appendItem(cell, "zeros", row);
	// Keys of the cell override what it takes from another plan: its rows come along.
	const taken = (tracker?.zeros ?? []).flatMap(({ since, ...parts }) => (since ? [zerosRow(since, parts)] : []));
	return setKey(cell, "", "zeros", asYaml(`[${[...taken, row].join(", ")}]`));
}
