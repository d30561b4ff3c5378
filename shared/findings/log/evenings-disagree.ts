import type { ScaledPart } from "../../methods/method.ts";
import { errorDegrees } from "../../notation/angle.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { atCell, rule } from "../finding.ts";

const words = sentences("log/evenings-disagree", {
	title: "Evenings disagree about a scale",
	about: `A scale that is off by the same amount every evening can be corrected. Here the evenings in the log differ
		by more than setting a scale usually scatters: the head was knocked or taken apart, the scale slipped, or one
		evening was measured wrongly. A mean of these evenings would be wrong for all of them, so no row of \`zeros\`
		is offered. Check each evening, and delete the entries from before the change.`,
	tilt: `The tilt error differs by up to {apart} between the {evenings} evenings, so no constant error can be
		computed. Check each evening; if the head was changed in between, delete the entries from before.`,
	pan: `The pan error differs by up to {apart} between the {evenings} evenings, so no constant error can be computed.
		Check each evening; if the head was changed in between, delete the entries from before.`,
});

const PARTS: readonly ScaledPart[] = ["tilt", "pan"];

/** Two evenings, the second of which measured a drift of `up` pixels. */
const twoEvenings = (up: number): string =>
	`- { date: 2027-06-01, at: "23:30", frame: 600 s, star: Antares, drift: { right: 0 px, up: 0 px }, method: sky-bearing }
- { date: 2027-06-01, at: "21:00", frame: 600 s, star: Regulus, drift: { right: 0 px, up: 0 px }, method: sky-bearing }
- { date: 2027-06-02, at: "23:30", frame: 600 s, star: Antares, drift: { right: 0 px, up: ${up} px }, method: sky-bearing }
- { date: 2027-06-02, at: "21:00", frame: 600 s, star: Regulus, drift: { right: 0 px, up: 0 px }, method: sky-bearing }`;

export default rule({
	code: "log/evenings-disagree",
	severity: "warning",
	words,
	wrong: { tracker: "head: geared", log: twoEvenings(20) },
	right: { tracker: "head: geared", log: twoEvenings(10) },
	over: { tracker: "head: geared", log: twoEvenings(15) },
	*find({ plan, log }) {
		const cell = cellsOf(plan, "log")[0];
		if (!cell) return;
		for (const part of PARTS) {
			const { apart, evenings } = log?.value?.constant[part] ?? {};
			if (apart === undefined || evenings === undefined) continue;
			yield { ...atCell(cell), message: words[part]({ evenings, apart: errorDegrees(apart, 1) }) };
		}
	},
});
