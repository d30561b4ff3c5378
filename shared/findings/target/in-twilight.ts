import { degrees, largestDegrees } from "../../notation/angle.ts";
import { minutesText } from "../../notation/duration.ts";
import { both } from "../../sky/intervals.ts";
import { starsOut, sunAltitude } from "../../sky/night.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { beginFix, eachTarget, isBrief, partText, timesText } from "./each.ts";

const words = sentences("target/in-twilight", {
	title: "Frames in twilight",
	about: `For some or all of the frames the Sun is not far enough below the horizon: 18° unless \`sun-below\` of the
		target or the night says otherwise. Twilight brightens the background and hides faint stars and the Milky Way.
		Begin later or end earlier, or set a smaller \`sun-below\` if you want twilight in the picture.`,
	message: `{name} is in twilight for {minutes} of its {duration}: the Sun is {sun}, and the plan asks for at least {limit}
		below it. Dark: {dark}.`,
	sun: "{altitude} below the horizon",
	sunUp: "{altitude} above the horizon",
});

export default rule({
	code: "target/in-twilight",
	severity: "warning",
	words,
	wrong: {
		targets:
			'- name: core over the gate\n  aim: galactic-centre\n  from: "18:40"\n  exposure: 60 s\n  frames: 10\n  foreground: true',
	},
	right: { targets: '- name: Spica\n  aim: Spica\n  from: "19:06"\n  exposure: 60 s\n  foreground: true' },
	over: { targets: '- name: Spica\n  aim: Spica\n  from: "19:05"\n  exposure: 60 s\n  foreground: true' },
	each: "target",
	*find(evaluation) {
		const { site } = evaluation;
		for (const one of eachTarget(evaluation)) {
			const { cell, target, night, minutesOutside, timePath } = one;
			// A night without any darkness has a finding of its own.
			if (!site || !target.needsDark || target.darkness.sunDark.length === 0) continue;
			const { sunDark, dark, sunBelow: limit } = target.darkness;
			const minutes = minutesOutside(sunDark);
			// What has no time of its own is placed while it is usable, or has a finding of its own.
			if (!target.timed || isBrief(minutes, target.series)) continue;
			if (!target.forSky && !starsOut(site.spot, target.series.from)) continue;
			const highest = Math.max(...[target.series.from, target.series.until].map((t) => sunAltitude(site.spot, t)));
			yield {
				...at(cell, timePath),
				...(target.forSky ? {} : { severity: "info" }),
				message: words.message({
					name: target.name,
					minutes: partText(minutes, target.series),
					duration: minutesText(target.seconds / 60),
					sun:
						highest < 0
							? words.sun({ altitude: largestDegrees(-highest) })
							: words.sunUp({ altitude: degrees(highest) }),
					limit: degrees(limit, Number.isInteger(limit) ? 0 : 1),
					dark: timesText(sunDark, night),
				}),
				fixes: () => beginFix(one, target.usable, both(target.inView, dark)),
			};
		}
	},
});
