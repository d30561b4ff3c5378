import { degrees } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import { minutesText } from "../../notation/duration.ts";
import { hiddenBy } from "../../sky/cover.ts";
import { type Interval, totalMinutes } from "../../sky/intervals.ts";
import { whereTrue } from "../../sky/roots.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { beginFix, eachTarget, isBrief, minutesWithout, momentWithout, timesText } from "./each.ts";

const words = sentences("target/hidden", {
	title: "Target hidden",
	about: `For some or all of its frames the middle of the frame points at something that hides the sky: the ground,
		the skyline, an obstruction, or the roof of an enclosed site. If that is so for all of the frames, this is an
		error; otherwise a warning. Move the frames to a time when the target is in view, or choose another spot. A
		frame aimed in a fixed direction may be meant for the ground, so it is checked only if \`stars\` is given, or
		if the frame starts on sky and is tracked.`,
	message: "{name} is hidden for {minutes} of its {duration}: at {time} it is {why}. In view: {inView}.",
	all: "all",
	roof: "at altitude {altitude}, bearing {bearing}, outside every opening",
	horizon: "{angle} below the horizon",
	skyline: "at altitude {altitude}, bearing {bearing}, behind the skyline, which reaches {angle} there",
	obstruction: "at altitude {altitude}, bearing {bearing}, behind `{name}`",
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
			if (!target.ofTheSky || target.entry.opening !== undefined) continue;
			// What has no time of its own is placed while it is in view, or has a finding of its own.
			if (!target.timed && target.inView.length > 0) continue;
			const clearIn = (within: Interval) =>
				whereTrue((t) => hiddenBy(site.cover, target.directionAt(t)) === undefined, within, 300_000);
			const minutes = minutesWithout(clearIn, firstDay);
			if (isBrief(minutes, firstDay)) continue;
			const all = isBrief(totalMinutes([firstDay]) - minutes, firstDay);
			const moment = momentWithout(clearIn, firstDay);
			const direction = target.directionAt(moment);
			const by = hiddenBy(site.cover, direction);
			const place = { altitude: degrees(direction.altitude), bearing: bearingText(direction.azimuth) };
			yield {
				...at(cell, timePath),
				severity: all ? "error" : "warning",
				message: words.message({
					name: target.name,
					minutes: all ? words.all() : minutesText(minutes),
					duration: minutesText(totalMinutes([firstDay])),
					time: clock(moment),
					why:
						by === "roof"
							? words.roof(place)
							: direction.altitude < 0
								? words.horizon({ angle: degrees(-direction.altitude) })
								: typeof by === "object"
									? words.obstruction({ ...place, name: by.name })
									: words.skyline({ ...place, angle: degrees(site.cover.skylineAt(direction.azimuth)) }),
					inView: timesText(target.inView, one.night),
				}),
				fixes: () => beginFix(one, target.usable.flatMap(clearIn), target.inView.flatMap(clearIn)),
			};
		}
	},
});
