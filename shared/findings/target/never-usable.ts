import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { eachTarget, isNeverUsable, timesText } from "./each.ts";

const words = sentences("target/never-usable", {
	title: "Never in view while dark",
	about: `Between arriving and leaving there is not one minute when the target is in view while the sky is dark and
		the Moon is down, as the plan defines dark and moonless. Frames at any time would suffer. Try another date, more
		time on site, or a spot with a different view.`,
	message: `{name} is never in view while it is dark and moonless. In view: {inView}; dark and moonless:
		{moonless}. Try another date or more time on site.`,
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
		night: 'date: 2027-06-05\narrive: "17:00"\nleave: "19:40"',
		targets: "- name: core over the gate\n  aim: galactic-centre\n  exposure: 60 s\n  foreground: true",
	},
	over: {
		night: 'date: 2027-06-05\narrive: "17:00"\nleave: "19:39"',
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
					inView: timesText(target.inView, night),
					moonless: timesText(target.darkness.moonless, night),
				}),
			};
		}
	},
});
