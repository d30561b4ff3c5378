import { isVisible, windowNamed } from "../../cells/targets/visible.ts";
import { degrees } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import { minutesText } from "../../notation/duration.ts";
import { type Interval, totalMinutes } from "../../sky/intervals.ts";
import { whereTrue } from "../../sky/roots.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { beginFix, eachTarget, isBrief, minutesWithout, momentWithout, timesText } from "./each.ts";

const words = sentences("target/outside-opening", {
	title: "Target outside its opening",
	about: `The plan says that this target is photographed through a certain opening of the site, but for some or all of
		its frames it is outside that opening. If that is so for all of the frames, this is an error; otherwise a
		warning. Move the frames to a time when the target is inside the opening, or name another opening.`,
	message: `{name} is outside \`{opening}\` for {minutes} of its {duration}: at {time} it is at altitude {altitude}, bearing
		{bearing}. Inside it: {inView}.`,
	all: "all",
});

const SITE = `name: Sheepfold
latitude: 32.4123 S
longitude: 54.3622 W
openings:
  - { name: door, outline: [[100, 0], [140, 0], [140, 40], [100, 40]] }
  - { name: gate, outline: [[330, 0], [30, 0], [30, 80], [330, 80]] }`;

export default rule({
	code: "target/outside-opening",
	severity: "warning",
	words,
	wrong: {
		site: SITE,
		targets:
			'- name: core in the gate\n  aim: galactic-centre\n  opening: gate\n  from: "21:30"\n  exposure: 60 s\n  frames: 20\n  foreground: true',
	},
	instead: {
		site: SITE,
		targets:
			'- name: core in the door\n  aim: galactic-centre\n  opening: door\n  from: "21:30"\n  exposure: 60 s\n  foreground: true',
	},
	right: {
		site: SITE,
		targets:
			'- name: core in the door\n  aim: galactic-centre\n  opening: door\n  from: "21:32"\n  exposure: 60 s\n  foreground: true',
	},
	over: {
		site: SITE,
		targets:
			'- name: core in the door\n  aim: galactic-centre\n  opening: door\n  from: "21:33"\n  exposure: 60 s\n  foreground: true',
	},
	each: "target",
	*find(evaluation) {
		const { site } = evaluation;
		if (!site) return;
		for (const one of eachTarget(evaluation)) {
			const { cell, target, firstDay, clock } = one;
			const { opening } = target.entry;
			const window = windowNamed(site.cover, opening);
			if (opening === undefined || !window) continue;
			if (!target.timed && target.inView.length > 0) continue;
			const insideIn = (within: Interval) =>
				whereTrue((t) => isVisible(site.cover, target.directionAt(t), window), within, 300_000);
			const minutes = minutesWithout(insideIn, firstDay);
			if (isBrief(minutes, firstDay)) continue;
			const all = isBrief(totalMinutes([firstDay]) - minutes, firstDay);
			const moment = momentWithout(insideIn, firstDay);
			const direction = target.directionAt(moment);
			yield {
				...at(cell, `${target.index}.opening`),
				severity: all ? "error" : "warning",
				message: words.message({
					name: target.name,
					opening,
					minutes: all ? words.all() : minutesText(minutes),
					duration: minutesText(totalMinutes([firstDay])),
					time: clock(moment),
					altitude: degrees(direction.altitude),
					bearing: bearingText(direction.azimuth),
					inView: timesText(target.inView, one.night),
				}),
				fixes: () => beginFix(one, target.usable.flatMap(insideIn), target.inView.flatMap(insideIn)),
			};
		}
	},
});
