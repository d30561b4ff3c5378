import { arrivingAt } from "../../methods/tonight.ts";
import { durationText } from "../../notation/duration.ts";
import { nightClock } from "../../notation/night-clock.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { arriveEarlier, saysArrival } from "./arrive.ts";

/** Nobody comes earlier by more for a method's sake: another one is chosen. Common practice, no source. */
const MOST_EARLIER_MS = 7_200_000;

const words = sentences("evening/window-missed", {
	title: "Too late for a method",
	about: `Some methods can be used only for a while: a landmark without a light by daylight, a guide star during the
		minutes in which it passes the aim point. You can begin only after walking in, set-up and focus (15 and 5 min,
		or as in \`prepare\`). Here the method's time is over by then. Arrive earlier, or choose another method.`,
	message: `The {method} can be used until {until} and takes {takes}; you are ready at {ready}, {late} too late. {arrive}, or
		choose another method.`,
});

const landmark = (arrive: string): { method: string; night: string } => ({
	method: "kind: landmark-bearing\nlandmark: water tower",
	night: `date: 2027-06-05\narrive: "${arrive}"\nleave: "02:00"\nprepare: { walk-in: 30 min }`,
});

export default rule({
	code: "evening/window-missed",
	severity: "warning",
	whole: true,
	words,
	wrong: landmark("18:40"),
	instead: landmark("17:40"),
	right: landmark("18:06"),
	over: landmark("18:07"),
	*find({ plan, night, tonight, methods }) {
		const [cell] = cellsOf(plan, "night");
		if (!cell || !night || !tonight || !saysArrival(night)) return;
		const { from: arrive } = night.onSite;
		for (const { value } of methods) {
			if (!value || value.works) continue;
			const { method, content, takes, name } = value;
			const half = takes * 500;
			const early = method.setUp(content, arrivingAt(tonight, arrive - MOST_EARLIER_MS));
			const until = content.at === undefined ? early.windows.at(-1)?.until : early.at;
			if (until === undefined || early.obstacles.length > 0) continue;
			const late = tonight.ready + half - until;
			if (late <= 0) continue;
			const { from, say, fixes } = arriveEarlier(night, cell, late);
			const then = method.setUp(content, arrivingAt(tonight, from));
			if (from < arrive - MOST_EARLIER_MS || then.obstacles.length > 0 || then.windows.length === 0) continue;
			yield {
				...at(cell, "arrive"),
				message: words.message({
					method: name,
					until: nightClock(night, until + half),
					takes: durationText(takes),
					ready: nightClock(night, tonight.ready),
					late: durationText(Math.ceil(late / 60_000) * 60),
					arrive: say,
				}),
				fixes,
			};
		}
	},
});
