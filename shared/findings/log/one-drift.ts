import { errorDegrees } from "../../notation/angle.ts";
import { dateText } from "../../notation/date.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("log/one-drift", {
	title: "One drift shows half of the axis error",
	about: `The drift of one star shows only one of the two parts of the axis error. A second star, about 90° (six
		hours) of hour angle away, shows the other; until then the correction is incomplete. Measure one star low in the
		east or west and one near the meridian.`,
	message: `On {date} the axis was {size} ± {spread} off in the direction that this star shows. Measure a second star,
		about 90° (six hours) of hour angle away, for the other direction.`,
});

/** Two drifts of a star, the second at a clock time. */
const twice = (
	clock: string,
): string => `- { at: "23:30", frame: 120 s, star: Antares, drift: { right: 2 px, up: -6 px } }
- { at: "${clock}", frame: 120 s, star: Antares, drift: { right: 2 px, up: -6 px } }`;

export default rule({
	code: "log/one-drift",
	severity: "info",
	words,
	wrong: { log: '- at: "23:30"\n  frame: 120 s\n  star: Antares\n  drift: { right: 2 px, up: -6 px }' },
	instead: {
		log: `- { at: "20:30", frame: 120 s, star: Regulus, drift: { right: 2 px, up: -6 px } }
- { at: "23:30", frame: 120 s, star: Antares, drift: { right: 2 px, up: -6 px } }`,
	},
	right: { log: twice("23:30:28") },
	over: { log: twice("23:30:27") },
	*find({ plan, log }) {
		const cell = cellsOf(plan, "log")[0];
		for (const { part, date } of log?.value?.evenings ?? []) {
			if (!cell || !part) continue;
			yield {
				...at(cell, `${part.entry}.drift`, "key"),
				message: words.message({
					date: dateText(date),
					size: errorDegrees(part.size, 2),
					spread: errorDegrees(part.spread, 2),
				}),
			};
		}
	},
});
