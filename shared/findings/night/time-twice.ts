import { timesShown } from "../../cells/night/night.ts";
import { clockText } from "../../notation/clock.ts";
import { at, rule } from "../finding.ts";
import { clockTimes } from "./clock-times.ts";

export default rule({
	code: "night/time-twice",
	severity: "warning",
	title: "A clock time that comes twice that night",
	about: "Clocks go back that night, and the time named comes twice. The first is meant.",
	wrong: {
		site: "name: Larch clearing\nlatitude: 46.6 N\nlongitude: 12.1 E\ntimezone: Europe/Rome",
		night: 'date: 2027-10-30\narrive: "20:00"\nleave: "02:30"',
	},
	right: {},
	*find(evaluation) {
		const { night } = evaluation;
		if (!night) return;
		for (const { cell, path, clock } of clockTimes(evaluation)) {
			if (timesShown(night, clock) === 2)
				yield {
					...at(cell, path),
					message: `Clocks go back in that night, and ${clockText(clock)} comes twice in ${night.zone}. The first is taken; name a time outside the repeated hour if the second is meant.`,
				};
		}
	},
});
