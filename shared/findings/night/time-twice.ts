import { type EvaluatedNight, timesShown } from "../../cells/night/night.ts";
import { clockText } from "../../notation/clock.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";
import { clockTimes } from "./clock-times.ts";

const words = sentences("night/time-twice", {
	title: "A clock time that comes twice that night",
	about: "Clocks go back that night, and the time named comes twice. The first is meant.",
	message: `Clocks go back in that night, and {time} comes twice in {zone}. The first is taken; name a time outside the
		repeated hour if the second is meant.`,
	change: "Change to {time}, after the repeated hour",
});

const SITE = "name: Larch clearing\nlatitude: 46.6 N\nlongitude: 12.1 E\ntimezone: Europe/Rome";

export default rule({
	code: "night/time-twice",
	severity: "warning",
	words,
	wrong: { site: SITE, night: 'date: 2027-10-30\narrive: "20:00"\nleave: "02:30"' },
	right: [
		{ site: SITE, night: 'date: 2027-10-30\narrive: "20:00"\nleave: "01:59"' },
		{ site: SITE, night: 'date: 2027-10-30\narrive: "20:00"\nleave: "03:00"' },
	],
	over: [
		{ site: SITE, night: 'date: 2027-10-30\narrive: "20:00"\nleave: "02:00"' },
		{ site: SITE, night: 'date: 2027-10-30\narrive: "20:00"\nleave: "02:59"' },
	],
	*find(evaluation) {
		const { night } = evaluation;
		if (!night) return;
		for (const { cell, path, clock } of clockTimes(evaluation)) {
			if (timesShown(night, clock) !== 2) continue;
			const time = clockText(onceAfter(night, clock));
			yield {
				...at(cell, path),
				message: words.message({ time: clockText(clock), zone: night.zone }),
				fixes: fix(words.change({ time }), false, replaceValue(cell, path, time)),
			};
		}
	},
});

/** The first whole minute after a repeated clock time that comes once. */
function onceAfter(night: EvaluatedNight, clock: number): number {
	let next = Math.floor(clock / 60) * 60;
	while (timesShown(night, next % 86_400) > 1) next += 60;
	return next % 86_400;
}
