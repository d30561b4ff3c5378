import { stepName } from "../../evaluate/evening/words.ts";
import { durationText } from "../../notation/duration.ts";
import { nightClock } from "../../notation/night-clock.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { arriveEarlier, saysArrival } from "./arrive.ts";
import { isArriving } from "./clash.ts";

const words = sentences("evening/set-up-short", {
	title: "Set-up cut short",
	about: `Setting up takes 15 min and focusing 5 min, unless \`prepare\` gives other values. Here another step of the evening
		begins before you have finished. Begin the frames later, or arrive earlier, or choose another method.`,
	message: `Setting up and focusing take {takes}, until {ready}; “{next}” begins at {from}, {short} earlier. {arrive},
		or begin that step later.`,
});

const night = (arrive: string): string => `date: 2027-06-05\narrive: "${arrive}"\nleave: "02:00"`;

export default rule({
	code: "evening/set-up-short",
	severity: "warning",
	whole: true,
	words,
	wrong: { night: night("19:50") },
	right: { night: night("19:36") },
	over: { night: night("19:37") },
	*find(evaluation) {
		const { plan, evening, night } = evaluation;
		const [cell] = cellsOf(plan, "night");
		if (!evening || !night || !cell || !saysArrival(night)) return;
		const ready = evening.steps.find((step) => step.kind === "focus" && isArriving(step))?.until;
		const [next] = evening.steps.filter((step) => step.kind !== "wait" && !isArriving(step));
		if (ready === undefined || !next || next.from >= ready) return;
		const { say, fixes } = arriveEarlier(night, cell, ready - next.from);
		yield {
			...at(cell, "arrive"),
			message: words.message({
				takes: durationText((ready - night.onSite.from) / 1000),
				ready: nightClock(night, ready),
				next: stepName(next, evaluation),
				from: nightClock(night, next.from),
				short: durationText((ready - next.from) / 1000),
				arrive: say,
			}),
			fixes,
		};
	},
});
