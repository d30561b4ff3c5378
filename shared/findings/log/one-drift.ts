import { degrees } from "../../notation/angle.ts";
import { dateText } from "../../notation/date.ts";
import { cellsOf } from "../../plan/plan.ts";
import { at, rule } from "../finding.ts";

export default rule({
	code: "log/one-drift",
	severity: "info",
	title: "One drift tells one part of the axis error",
	about:
		"The drift of one star shows how the axis is off in one direction only. A second star, six hours of hour angle away, shows the other.",
	wrong: { log: '- at: "23:30"\n  frame: 120 s\n  star: Antares\n  drift: { right: 2 px, up: -6 px }' },
	right: {},
	*find({ plan, log }) {
		const cell = cellsOf(plan, "log")[0];
		for (const { part, entries, date } of log?.value?.evenings ?? []) {
			if (!cell || !part) continue;
			yield {
				...at(cell, `${entries[0]}.drift`, "key"),
				message: `On ${dateText(date)} the axis was off by ${degrees(part.size, 2)} ± ${degrees(part.spread, 2)} in the direction this star shows. Measure another, about six hours of hour angle away, to learn the rest.`,
			};
		}
	},
});
