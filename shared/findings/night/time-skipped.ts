import { timesShown } from "../../cells/night/night.ts";
import { clockText } from "../../notation/clock.ts";
import { at, rule } from "../finding.ts";
import { clockTimes } from "./clock-times.ts";

export default rule({
	code: "night/time-skipped",
	severity: "error",
	title: "A clock time that does not exist that night",
	about:
		"Clocks go forward that night, and the time named is skipped. The plan goes on with the moment the clocks jump from it.",
	wrong: {
		site: "name: Larch clearing\nlatitude: 46.6 N\nlongitude: 12.1 E\ntimezone: Europe/Rome",
		night: 'date: 2027-03-27\narrive: "20:00"\nleave: "02:30"',
	},
	right: {},
	*find(evaluation) {
		const { night } = evaluation;
		if (!night) return;
		for (const { cell, path, clock } of clockTimes(evaluation)) {
			if (timesShown(night, clock) === 0)
				yield {
					...at(cell, path),
					message: `No clock shows ${clockText(clock)} in that night: clocks go forward over it in ${night.zone}. Name the time before or after.`,
				};
		}
	},
});
