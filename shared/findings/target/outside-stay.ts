import { leadAfterAlignment, readyAt } from "../../evaluate/evening/of-plan.ts";
import { minutesText } from "../../notation/duration.ts";
import { exactNightClock } from "../../notation/night-clock.ts";
import { both } from "../../sky/intervals.ts";
import { type Phrase, sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { beginFix, eachTarget, framesFix, framesIn } from "./each.ts";

const words = sentences("target/outside-stay", {
	title: "Frames outside your time on site",
	about: `With exposures and gaps counted, the series begins before you arrive, or ends after you leave or after the
		target's own \`until\`. Those frames cannot be taken. Take fewer or shorter frames, begin earlier, or change
		\`arrive\`, \`leave\` or \`until\`.`,
	begins: "{name} begins at {time}, but you are on site only from {arrive} to {leave}. Begin within that time.",
	ends: `{name} takes {duration} including gaps and ends at {time}, {over} after you leave ({leave}).{fitting}`,
	until: `{name} takes {duration} including gaps and ends at {time}, after its \`until\` ({until}).{fitting}`,
	frameFits: " Only 1 frame fits.",
	framesFit: " Only {frames} frames fit.",
});

const fitting = (frames: number): Phrase | string =>
	frames === 0 ? "" : frames === 1 ? words.frameFits() : words.framesFit({ frames });

export default rule({
	code: "target/outside-stay",
	severity: "error",
	words,
	wrong: {
		targets:
			'- name: core over the gate\n  aim: galactic-centre\n  from: "23:30"\n  exposure: 60 s\n  frames: 200\n  foreground: true',
	},
	instead: {
		targets:
			'- name: core over the gate\n  aim: galactic-centre\n  from: "23:30"\n  exposure: 60 s\n  frames: 150\n  foreground: true',
	},
	right: [
		{ targets: '- name: core\n  aim: galactic-centre\n  from: "17:00"\n  exposure: 60 s\n  foreground: true' },
		{
			targets:
				'- name: core\n  aim: galactic-centre\n  from: "23:30"\n  exposure: 60 s\n  frames: 150\n  foreground: true',
		},
		{
			targets:
				'- name: core\n  aim: galactic-centre\n  from: "21:30"\n  until: "22:00"\n  exposure: 60 s\n  gap: 5 s\n  frames: 27\n  foreground: true',
		},
	],
	over: [
		{ targets: '- name: core\n  aim: galactic-centre\n  from: "16:59"\n  exposure: 60 s\n  foreground: true' },
		{
			targets:
				'- name: core\n  aim: galactic-centre\n  from: "23:30"\n  exposure: 60 s\n  frames: 151\n  foreground: true',
		},
		{
			targets:
				'- name: core\n  aim: galactic-centre\n  from: "21:30"\n  until: "22:00"\n  exposure: 60 s\n  gap: 5 s\n  frames: 28\n  foreground: true',
		},
	],
	each: "target",
	*find(evaluation) {
		for (const one of eachTarget(evaluation)) {
			const { cell, target, night, clock, timePath } = one;
			const { series, entry, name, index, seconds, usable, inView } = target;
			const { onSite } = night;
			const until = entry.until === undefined ? undefined : night.instant(entry.until);
			const within = { from: onSite.from, until: Math.min(onSite.until, until ?? onSite.until) };
			// What may be of the ground is not moved into the dark. One is set up and focused first where there is time for it.
			const times = target.forSky ? [usable, inView] : [inView.length > 0 ? inView : usable];
			const ready = { ...within, from: readyAt(night) + leadAfterAlignment(entry, target.lens) };
			const moved = () => beginFix(one, ...times.flatMap((list) => [both(list, [ready]), both(list, [within])]));
			const duration = minutesText(seconds / 60);
			// What has no time of its own is placed while one is on site; what finds no room is told by the evening.
			if (!target.timed) continue;
			if (series.from < onSite.from - 1000 || series.from >= onSite.until) {
				yield {
					...at(cell, timePath),
					message: words.begins({
						name,
						time: clock(series.from),
						arrive: clock(onSite.from),
						leave: clock(onSite.until),
					}),
					fixes: moved,
				};
			} else if (series.until > onSite.until + 1000) {
				const frames = framesIn(entry, (onSite.until - series.from) / 1000);
				yield {
					...at(cell, `${index}.${entry.frames === undefined ? "exposure" : "frames"}`),
					message: words.ends({
						name,
						duration,
						time: clock(series.until),
						over: minutesText((series.until - onSite.until) / 60_000),
						leave: clock(onSite.until),
						fitting: fitting(frames),
					}),
					fixes: () => [...framesFix(one, framesIn(entry, (within.until - series.from) / 1000)), ...moved()],
				};
			} else if (until !== undefined && series.until > until + 1000) {
				const frames = framesIn(entry, (until - series.from) / 1000);
				yield {
					...at(cell, `${index}.until`),
					message: words.until({
						name,
						duration,
						time: exactNightClock(night, series.until),
						until: clock(until),
						fitting: fitting(frames),
					}),
					fixes: () => [...framesFix(one, frames), ...moved()],
				};
			}
		}
	},
});
