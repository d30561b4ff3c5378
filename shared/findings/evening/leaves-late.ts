import { durationText } from "../../notation/duration.ts";
import { nightClock } from "../../notation/night-clock.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("evening/leaves-late", {
	title: "Leaving before everything is packed up",
	about: `Packing up takes 10 min, unless \`prepare\` gives another value, and begins after the last frame. Here you
		would still be packing at the time in \`leave\`, when someone may be waiting for you. Set \`leave\` later, or
		end the frames earlier.`,
	message: `The last frame ends at {last} and packing up takes {takes}, until {late} after you leave ({leave}). Leave later,
		or end the frames earlier.`,
});

export default rule({
	code: "evening/leaves-late",
	severity: "warning",
	whole: true,
	words,
	wrong: { night: 'date: 2027-06-05\narrive: "17:00"\nleave: "21:55"' },
	right: { night: 'date: 2027-06-05\narrive: "17:00"\nleave: "22:01"' },
	over: { night: 'date: 2027-06-05\narrive: "17:00"\nleave: "22:00"' },
	*find({ plan, evening, night }) {
		if (!evening || !night) return;
		const cell = cellsOf(plan, "night")[0];
		const packing = evening.steps.find(({ kind }) => kind === "pack-up");
		const { until: leave } = night.onSite;
		if (!cell || !packing || packing.until - leave < 60_000) return;
		const clock = (moment: number): string => nightClock(night, moment);
		yield {
			...at(cell, "leave"),
			message: words.message({
				last: clock(packing.from),
				takes: durationText((packing.until - packing.from) / 1000),
				late: durationText((packing.until - leave) / 1000),
				leave: clock(leave),
			}),
		};
	},
});
