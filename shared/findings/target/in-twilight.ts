import { degrees } from "../../notation/angle.ts";
import { both } from "../../sky/intervals.ts";
import { sunAltitude } from "../../sky/night.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { beginFix, eachTarget, partText, timesText } from "./each.ts";

const words = sentences("target/in-twilight", {
	title: "Frames in twilight",
	about: `For some or all of the frames the Sun is not far enough below the horizon: 18° unless the night's \`sun-below\`
		says otherwise. Twilight brightens the background and hides faint stars and the Milky Way. Begin later or end
		earlier, or lower \`sun-below\` if you want twilight in the picture.`,
	message: "{name} is photographed in twilight for {part}, with the Sun {sun}. Dark: {dark}.",
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
			const { cell, target, night, minutesOutside, clock, timePath } = one;
			// A night without any darkness has a finding of its own.
			if (!site || !target.needsDark || night.sky.sunDark.length === 0) continue;
			const minutes = minutesOutside(night.sky.sunDark);
			if (minutes < 0.5) continue;
			const highest = Math.max(...[target.series.from, target.series.until].map((t) => sunAltitude(site.spot, t)));
			const altitude = degrees(Math.abs(highest));
			yield {
				...at(cell, timePath),
				message: words.message({
					name: target.name,
					part: partText(minutes, target.seconds / 60),
					sun: highest < 0 ? words.sun({ altitude }) : words.sunUp({ altitude }),
					dark: timesText(night.sky.sunDark, clock),
				}),
				fixes: () => beginFix(one, target.usable, both(target.inView, night.dark), night.dark),
			};
		}
	},
});
