import { isVisible } from "../../cells/targets/target.ts";
import { degrees } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import { minutesText } from "../../notation/duration.ts";
import { whereTrue } from "../../sky/roots.ts";
import { at, rule } from "../finding.ts";
import { eachTarget, timesText } from "./each.ts";

export default rule({
	code: "target/outside-opening",
	severity: "warning",
	title: "Outside its opening",
	about: "The target must stay in a certain opening, and during some or all of its frames it is not there.",
	wrong: {
		site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 20.8431 E\nopenings:\n  - { name: door, outline: [[100, 0], [140, 0], [140, 40], [100, 40]] }\n  - { name: gate, outline: [[330, 0], [30, 0], [30, 80], [330, 80]] }",
		targets:
			'- name: core in the gate\n  aim: galactic-centre\n  opening: gate\n  from: "21:30"\n  exposure: 60 s\n  frames: 20\n  companion: true',
	},
	right: {},
	*find(evaluation) {
		const { site } = evaluation;
		if (!site) return;
		for (const { cell, target, minutesOutside, clock } of eachTarget(evaluation)) {
			const { opening } = target.entry;
			if (opening === undefined || !site.cover.openings?.some(({ name }) => name === opening)) continue;
			const inside = whereTrue((t) => isVisible(site.cover, target.directionAt(t), opening), target.series, 300_000);
			const minutes = minutesOutside(inside);
			if (minutes < 0.5) continue;
			const all = minutes >= target.seconds / 60 - 0.5;
			const direction = target.directionAt(target.series.from);
			yield {
				...at(cell, `${target.index}.opening`),
				severity: all ? "error" : "warning",
				message: `${target.name} is outside \`${opening}\` for ${all ? "all" : minutesText(minutes)} of its ${minutesText(target.seconds / 60)} (at ${clock(target.series.from)} it is ${degrees(direction.altitude)} high at ${bearingText(direction.azimuth)}). It is in it ${timesText(target.inView, clock)}.`,
			};
		}
	},
});
