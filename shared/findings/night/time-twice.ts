import { type EvaluatedNight, timesShown } from "../../cells/night/night.ts";
import { clockText } from "../../notation/clock.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";
import { clockChange, clockTimes } from "./clock-times.ts";

const words = sentences("night/time-twice", {
	title: "Clock time that occurs twice",
	about: `The clocks go back that night, usually by an hour when summer time ends, and this time comes twice. The plan
		uses the first of the two moments; the second is usually an hour later. If you mean that one, write a time after
		the repeated hour.`,
	message: `{time} occurs twice that night in {zone}: the clocks go back from {before} to {after}. The first is used; if you
		mean the second, write a time after the repeated hour.`,
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
				message: words.message({ time: clockText(clock), zone: night.zone, ...clockChange(night, clock) }),
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
