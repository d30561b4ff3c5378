import { totalMinutes } from "../../sky/intervals.ts";
import { at, rule } from "../finding.ts";
import { eachTarget, timesText } from "./each.ts";

export default rule({
	code: "target/never-usable",
	severity: "warning",
	title: "Never in view and dark at once",
	about:
		"From arriving to leaving there is no minute in which the target is in view while it is dark and the Moon is down. Another date, a longer stay or another opening may help.",
	wrong: {
		night: 'date: 2027-12-05\narrive: "19:00"\nleave: "02:00"',
		method: "kind: compass",
		targets: "- name: core over the gate\n  aim: galactic-centre\n  exposure: 60 s\n  companion: true",
	},
	right: {},
	*find(evaluation) {
		for (const { cell, target, night, clock } of eachTarget(evaluation)) {
			if (target.timed || totalMinutes(target.usable) > 0) continue;
			yield {
				...at(cell, `${target.index}.name`),
				message: `${target.name} is in view ${timesText(target.inView, clock)}, and it is dark without Moon ${timesText(night.moonless, clock)}: never both.`,
			};
		}
	},
});
