import { timesShown } from "../../cells/night/night.ts";
import { wallClock } from "../../earth/zone.ts";
import { clockText } from "../../notation/clock.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";
import { clockChange, clockTimes } from "./clock-times.ts";

const words = sentences("night/time-skipped", {
	title: "Clock time that does not exist",
	about: `The clocks go forward that night, usually by an hour for summer time, and skip this time. The plan goes on
		as if the clocks had not changed yet; yours will show a later time at that moment, and you could miss an
		alignment by an hour. Write a time before or after the gap.`,
	message: `{time} does not exist that night in {zone}: the clocks go from {before} to {after}. Write an earlier or a later
		time.`,
	change: "Change to {time}, as the clocks show it after the change",
});

const SITE = "name: Larch clearing\nlatitude: 46.6 N\nlongitude: 12.1 E\ntimezone: Europe/Rome";

export default rule({
	code: "night/time-skipped",
	severity: "error",
	words,
	wrong: { site: SITE, night: 'date: 2027-03-27\narrive: "20:00"\nleave: "02:30"' },
	right: [
		{ site: SITE, night: 'date: 2027-03-27\narrive: "20:00"\nleave: "01:59"' },
		{ site: SITE, night: 'date: 2027-03-27\narrive: "20:00"\nleave: "03:00"' },
	],
	over: [
		{ site: SITE, night: 'date: 2027-03-27\narrive: "20:00"\nleave: "02:00"' },
		{ site: SITE, night: 'date: 2027-03-27\narrive: "20:00"\nleave: "02:59"' },
	],
	*find(evaluation) {
		const { night } = evaluation;
		if (!night) return;
		for (const { cell, path, clock } of clockTimes(evaluation)) {
			if (timesShown(night, clock) > 0) continue;
			// The moment the plan goes on with, as the clocks show it.
			const time = clockText(wallClock(night.zone, night.instant(clock)).secondsOfDay);
			yield {
				...at(cell, path),
				message: words.message({ time: clockText(clock), zone: night.zone, ...clockChange(night, clock) }),
				fixes: fix(words.change({ time }), false, replaceValue(cell, path, time)),
			};
		}
	},
});
