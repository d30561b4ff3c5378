import { degrees } from "../../notation/angle.ts";
import { hiddenBy } from "../../sky/cover.ts";
import { type Interval, totalMinutes } from "../../sky/intervals.ts";
import { whereTrue } from "../../sky/roots.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { beginFix, eachTarget, minutesWithout, momentWithout, partText, timesText, whereText } from "./each.ts";

const words = sentences("target/hidden", {
	title: "Target hidden",
	about: `For some or all of its frames the middle of the frame points at something that hides the sky: the ground, the
		skyline, an obstruction, or the roof of an enclosed site. If all of its time is lost this is an error, otherwise
		a warning. Move the frames to a time in view, or choose another spot. Fixed directions are not checked, as they
		may be meant for the ground.`,
	message: "{name} is hidden for {part}: at {time} it is {where}{why}. In view: {inView}.",
	roof: ", outside every opening",
	skyline: ", behind the skyline ({angle} there)",
	obstruction: ", behind `{name}`",
});

export default rule({
	code: "target/hidden",
	severity: "warning",
	words,
	wrong: {
		targets:
			'- name: core over the gate\n  aim: galactic-centre\n  from: "18:00"\n  exposure: 60 s\n  frames: 30\n  foreground: true',
	},
	right: {
		targets:
			'- name: core over the gate\n  aim: galactic-centre\n  from: "19:39"\n  exposure: 60 s\n  frames: 30\n  foreground: true',
	},
	over: {
		targets:
			'- name: core over the gate\n  aim: galactic-centre\n  from: "19:38"\n  exposure: 60 s\n  frames: 30\n  foreground: true',
	},
	each: "target",
	*find(evaluation) {
		const { site } = evaluation;
		if (!site) return;
		for (const one of eachTarget(evaluation)) {
			const { cell, target, firstDay, clock, timePath } = one;
			if (target.fixed || target.entry.opening !== undefined) continue;
			const clearIn = (within: Interval) =>
				whereTrue((t) => hiddenBy(site.cover, target.directionAt(t)) === undefined, within, 300_000);
			const minutes = minutesWithout(clearIn, firstDay);
			if (minutes < 0.5) continue;
			const all = minutes >= totalMinutes([firstDay]) - 0.5;
			const moment = momentWithout(clearIn, firstDay);
			const direction = target.directionAt(moment);
			const by = hiddenBy(site.cover, direction);
			yield {
				...at(cell, timePath),
				severity: all ? "error" : "warning",
				message: words.message({
					name: target.name,
					part: partText(minutes, totalMinutes([firstDay])),
					time: clock(moment),
					where: whereText(direction),
					why:
						by === "roof"
							? words.roof()
							: direction.altitude < 0
								? ""
								: typeof by === "object"
									? words.obstruction({ name: by.name })
									: words.skyline({ angle: degrees(site.cover.skylineAt(direction.azimuth)) }),
					inView: timesText(target.inView, clock),
				}),
				fixes: () => beginFix(one, target.usable.flatMap(clearIn), target.inView.flatMap(clearIn)),
			};
		}
	},
});
