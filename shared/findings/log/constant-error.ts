import { errorDegrees } from "../../notation/angle.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { atCell, fix, rule, setKey } from "../finding.ts";

const words = sentences("log/constant-error", {
	title: "The tracker errs the same way every night",
	about: `Over the evenings of the log the axis was off in the same direction by more than chance explains. Write it to
		the tracker as \`tilt-zero\` and \`pan-zero\`: the steps then set the scales so that it cancels.`,
	message: `Over {evenings} evenings the tilt scale shows {tiltZero} ± {tiltSpread} more than the true tilt, and the
		bearing ends {panZero} ± {panSpread} clockwise of the pole's. Write both to the tracker.`,
	write: "Write tilt-zero and pan-zero to the tracker",
});

/** A constant error is worth a word from this many of its own spreads on. */
const SIGMAS = 2;

/** Two evenings, the second of which measured a drift of `up` pixels. */
const twoEvenings = (up: number): string =>
	`- { date: 2027-06-01, at: "23:30", frame: 240 s, star: Antares, drift: { right: 0 px, up: 6 px } }
- { date: 2027-06-01, at: "21:00", frame: 240 s, star: Altair, drift: { right: 0 px, up: 0 px } }
- { date: 2027-06-02, at: "23:30", frame: 240 s, star: Antares, drift: { right: 0 px, up: ${up} px } }
- { date: 2027-06-02, at: "21:00", frame: 240 s, star: Altair, drift: { right: 0 px, up: 0 px } }`;

export default rule({
	code: "log/constant-error",
	severity: "info",
	words,
	wrong: {
		log: `- { date: 2027-06-01, at: "23:30", frame: 240 s, star: Antares, drift: { right: 0 px, up: 6 px } }
- { date: 2027-06-01, at: "21:00", frame: 240 s, star: Altair, drift: { right: 7 px, up: 0 px } }
- { date: 2027-06-02, at: "23:30", frame: 240 s, star: Antares, drift: { right: 0 px, up: 6 px } }
- { date: 2027-06-02, at: "21:00", frame: 240 s, star: Altair, drift: { right: 7 px, up: 0 px } }`,
	},
	right: [
		{ log: twoEvenings(1.9) },
		{ tracker: "head: geared\ntilt-zero: -0.44°\npan-zero: 2.81°", log: twoEvenings(6) },
	],
	over: [{ log: twoEvenings(2) }, { tracker: "head: geared\ntilt-zero: -0.43°\npan-zero: 2.81°", log: twoEvenings(6) }],
	*find({ plan, log, tracker }) {
		const cell = cellsOf(plan, "log")[0];
		const constant = log?.value?.constant;
		if (!cell || !constant) return;
		const { tiltZero, tiltSpread, panZero, panSpread, evenings } = constant;
		const known =
			Math.abs(tiltZero - (tracker?.["tilt-zero"] ?? 0)) < 0.05 &&
			Math.abs(panZero - (tracker?.["pan-zero"] ?? 0)) < 0.05;
		const clear = Math.abs(tiltZero) > SIGMAS * tiltSpread + 0.02 || Math.abs(panZero) > SIGMAS * panSpread + 0.02;
		if (known || !clear) return;
		const trackerCell = cellsOf(plan, "tracker")[0];
		yield {
			...atCell(cell),
			message: words.message({
				evenings,
				tiltZero: errorDegrees(tiltZero, 2),
				tiltSpread: errorDegrees(tiltSpread, 2),
				panZero: errorDegrees(panZero, 2),
				panSpread: errorDegrees(panSpread, 2),
			}),
			fixes: trackerCell
				? fix(
						words.write(),
						false,
						setKey(trackerCell, "", "tilt-zero", `${tiltZero.toFixed(2)}°`),
						setKey(trackerCell, "", "pan-zero", `${panZero.toFixed(2)}°`),
					)
				: [],
		};
	},
});
