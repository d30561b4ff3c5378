import type { ScaledPart } from "../../methods/method.ts";
import { errorDegrees } from "../../notation/angle.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { atCell, rule } from "../finding.ts";

const words = sentences("log/evenings-disagree", {
	title: "Evenings disagree about a scale",
	about: `A scale that is always off by the same amount can be corrected for. These evenings differ by more than setting the
		scale again explains: the head was knocked or taken apart, a scale slipped, or a measurement is wrong. Their mean would
		be wrong on every evening, so no row of \`zeros\` is offered. Check each evening, and leave out those before the
		change.`,
	tilt: `The error of the tilt scale differs by up to {apart} between {evenings} evenings, so no constant can be given. Check
		each of them.`,
	pan: `The error of the pan scale differs by up to {apart} between {evenings} evenings, so no constant can be given. Check
		each of them.`,
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
