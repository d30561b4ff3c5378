import { degrees } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import { minutesText } from "../../notation/duration.ts";
import { both } from "../../sky/intervals.ts";
import { whereTrue } from "../../sky/roots.ts";
import { hiddenBy } from "../../sky/skyline.ts";
import { at, rule } from "../finding.ts";
import { eachTarget, timesText } from "./each.ts";

export default rule({
	code: "target/hidden",
	severity: "warning",
	title: "Behind the skyline, or outside every opening",
	about:
		"During some or all of its frames the middle of the frame looks at something hidden: behind the skyline, or outside every opening of an enclosed stand. All of its minutes is an error, some of them a warning. (A fixed direction may well look at the ground: only what is aimed at in the sky is checked.)",
	wrong: {
		targets:
			'- name: core over the gate\n  aim: galactic-centre\n  from: "18:00"\n  exposure: 60 s\n  frames: 30\n  companion: true',
	},
	right: {},
	*find(evaluation) {
		const { site } = evaluation;
		if (!site) return;
		for (const { cell, target, minutesOutside, clock, timePath } of eachTarget(evaluation)) {
			if (target.fixed || target.entry.opening !== undefined) continue;
			const clear = whereTrue((t) => hiddenBy(site.cover, target.directionAt(t)) === undefined, target.series, 300_000);
			const minutes = minutesOutside(both(clear, [target.series]));
			if (minutes < 0.5) continue;
			const all = minutes >= target.seconds / 60 - 0.5;
			const moment =
				[target.series.from, target.series.until].find(
					(t) => hiddenBy(site.cover, target.directionAt(t)) !== undefined,
				) ?? target.series.from;
			const direction = target.directionAt(moment);
			const by = hiddenBy(site.cover, direction);
			const why =
				by === "roof"
					? "outside every opening"
					: direction.altitude < 0
						? `${degrees(-direction.altitude)} below the horizon`
						: `behind the skyline (${degrees(site.cover.skylineAt(direction.azimuth))})`;
			yield {
				...at(cell, timePath),
				severity: all ? "error" : "warning",
				message: `${target.name} is hidden for ${all ? "all" : minutesText(minutes)} of its ${minutesText(target.seconds / 60)}: at ${clock(moment)} it is ${degrees(direction.altitude)} high at ${bearingText(direction.azimuth)}, ${why}. In view ${timesText(target.inView, clock)}.`,
			};
		}
	},
});
