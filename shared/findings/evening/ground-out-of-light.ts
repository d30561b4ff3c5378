import { foregroundOf } from "../../cells/targets/target.ts";
import { clockOf, minuteDown, minuteUp } from "../../earth/zone.ts";
import { durationText } from "../../notation/duration.ts";
import { nightClock } from "../../notation/night-clock.ts";
import { both } from "../../sky/intervals.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, rule, setKey } from "../finding.ts";
import { eachTarget, timesText } from "../target/each.ts";

const words = sentences("evening/ground-out-of-light", {
	title: "Foreground not in its light",
	about: `The foreground frames are given a clock time at which they do not have the light they are planned for. Dusk
		lasts from sunset to the end of nautical twilight (Sun 12° below the horizon); dark begins at \`sun-below\`;
		lamplit and moonlit frames begin at the end of civil twilight (6°). Take them earlier or later, or in other
		light.`,
	message: `The foreground frames of {name} are planned {light}, but begin at {from} and take {takes}. Such light
		while you are on site: {times}. Take them then.`,
	dusk: "at dusk",
	dark: "in the dark",
	moon: "by moonlight",
	lamp: "by lamplight",
	begin: "Begin the foreground at {at}",
});

const ground = (time: string, light = "dusk"): string =>
	`- name: core over the gate\n  aim: galactic-centre\n  from: "21:30"\n  exposure: 60 s\n  trail: 2 px\n  foreground: { light: ${light}, at: "${time}", exposure: 60 s }`;

export default rule({
	code: "evening/ground-out-of-light",
	severity: "warning",
	whole: true,
	words,
	wrong: { targets: ground("19:00") },
	right: [{ targets: ground("18:31") }, { targets: ground("20:30", "dark") }],
	over: { targets: ground("18:32") },
	*find(evaluation) {
		const { tasks } = evaluation;
		if (!tasks) return;
		for (const one of eachTarget(evaluation)) {
			const { cell, target, night } = one;
			const { name, index, entry } = target;
			const light = foregroundOf(entry)?.light;
			const ground = tasks.tasks.targets[tasks.listed.indexOf(index)]?.foreground;
			if (!ground || ground.at === undefined || light === undefined) continue;
			const { at: from, length } = ground;
			const times = both(ground.windows, [night.onSite]).filter((time) => time.until - time.from >= length);
			// Where the light is at no time there for long enough, others say so.
			if (times.length === 0 || times.some((time) => time.from <= from && from + length <= time.until)) continue;
			const better = times
				.flatMap((time) => {
					const [first, last] = [minuteUp(time.from), minuteDown(time.until - length)];
					return first <= last ? [Math.min(Math.max(from, first), last)] : [];
				})
				.sort((a, b) => Math.abs(a - from) - Math.abs(b - from))[0];
			const clock = better === undefined ? undefined : clockOf(night.zone, better);
			yield {
				...at(cell, `${index}.foreground.at`),
				message: words.message({
					name,
					from: nightClock(night, from),
					takes: durationText(length / 1000),
					light: words[light](),
					times: timesText(times, night),
				}),
				fixes:
					clock === undefined
						? []
						: fix(words.begin({ at: clock }), false, setKey(cell, `${index}.foreground`, "at", clock)),
			};
		}
	},
});
