import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { eachTarget, isNeverUsable, timesText } from "./each.ts";

const words = sentences("target/never-usable", {
	title: "Never in view and dark at once",
	about: `From arriving to leaving there is no minute in which the target is in view while it is dark and the Moon is
		down. Another date, a longer stay or another opening may help.`,
	message: "{name} is in view {inView}, and it is dark without Moon {moonless}: never both.",
});

export default rule({
	code: "target/never-usable",
	severity: "warning",
	words,
	wrong: {
		night: 'date: 2027-12-05\narrive: "19:00"\nleave: "02:00"',
		method: "kind: compass",
		targets: "- name: core over the gate\n  aim: galactic-centre\n  exposure: 60 s\n  foreground: true",
	},
	right: {
		night: 'date: 2027-06-05\narrive: "17:00"\nleave: "19:39"',
		targets: "- name: core over the gate\n  aim: galactic-centre\n  exposure: 60 s\n  foreground: true",
	},
	over: {
		night: 'date: 2027-06-05\narrive: "17:00"\nleave: "19:38"',
		targets: "- name: core over the gate\n  aim: galactic-centre\n  exposure: 60 s\n  foreground: true",
	},
	each: "target",
	*find(evaluation) {
		for (const { cell, target, night } of eachTarget(evaluation)) {
			// What is for the ground under it may well be taken without the dark.
			if (!target.forSky || !isNeverUsable(target)) continue;
			yield {
				...at(cell, `${target.index}.name`),
				message: words.message({
					name: target.name,
					inView: timesText(target.inView, night.zone),
					moonless: timesText(night.moonless, night.zone),
				}),
			};
		}
	},
});
