import { degrees } from "../../notation/angle.ts";
import { minutesText } from "../../notation/duration.ts";
import { sunAltitude } from "../../sky/night.ts";
import { at, rule } from "../finding.ts";
import { eachTarget, timesText } from "./each.ts";

export default rule({
	code: "target/in-twilight",
	severity: "warning",
	title: "In twilight",
	about:
		"During some or all of its frames the Sun is not far enough below the horizon for the plan (`sun-below`, 18° unless it says otherwise).",
	wrong: {
		targets:
			'- name: core over the gate\n  aim: galactic-centre\n  from: "18:40"\n  exposure: 60 s\n  frames: 10\n  companion: true',
	},
	right: {},
	*find(evaluation) {
		const { site } = evaluation;
		for (const { cell, target, night, minutesOutside, clock, timePath } of eachTarget(evaluation)) {
			// A night without any darkness has a finding of its own.
			if (!site || !target.needsDark || night.sky.sunDark.length === 0) continue;
			const minutes = minutesOutside(night.sky.sunDark);
			if (minutes < 0.5) continue;
			const ends = [target.series.from, target.series.until].map((t) => sunAltitude(site.spot, t));
			yield {
				...at(cell, timePath),
				message: `${target.name} is taken in twilight for ${minutesText(minutes)} of its ${minutesText(target.seconds / 60)}: the Sun is at ${degrees(Math.max(...ends))}. Dark is ${timesText(night.sky.sunDark, clock)}.`,
			};
		}
	},
});
