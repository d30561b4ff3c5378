import { degrees } from "../../notation/angle.ts";
import { dateText } from "../../notation/clock.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("log/far-off", {
	title: "Measured axis error too large to be true",
	about: `The drifts of this evening put the tracker's axis more than 10° from the pole. Hardly any method leaves it
		that far off, so most likely something else is wrong: the frame ran longer or shorter than the entry says, the
		drift was measured in another unit or on a picture of another size, the entry names the wrong star, or the
		tracker did not run. No correction is offered, and the evening does not count toward a scale's constant error.
		Leave the head as it is, check the entries, and take the test frames again.`,
	message: `On {date} the drifts put the axis {error} from the pole, further than almost any alignment leaves it.
		Check star, drift, lens and length of frame in the entries, and whether the tracker ran. Do not turn the head
		by these numbers.`,
});

const drifts = (up: number): string =>
	`- { at: "23:30", frame: 120 s, star: Antares, drift: { right: 0 px, up: ${up} px } }
- { at: "21:00", frame: 120 s, star: Regulus, drift: { right: 0 px, up: 2 px } }`;

export default rule({
	code: "log/far-off",
	severity: "warning",
	words,
	wrong: { log: drifts(40) },
	instead: { log: drifts(4) },
	right: { log: drifts(9) },
	over: { log: drifts(10) },
	*find({ plan, log }) {
		const cell = cellsOf(plan, "log")[0];
		if (!cell) return;
		for (const { date, entries, doubt } of log?.value?.evenings ?? []) {
			const [first] = entries;
			if (doubt?.why === "far-off" && first !== undefined)
				yield {
					...at(cell, `${first}`),
					message: words.message({ date: dateText(date), error: degrees(doubt.error) }),
				};
		}
	},
});
