import { clockOf } from "../../earth/zone.ts";
import { durationText } from "../../notation/duration.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("evening/leaves-late", {
	title: "Packing up ends after leaving",
	about: `Packing up takes 10 min, unless \`prepare\` of the night says otherwise, and begins when the last frame is done.
		The plan leaves before that. Leave later, or end the frames earlier; whoever waits for you counts on the time.`,
	message: `The last frame is done at {last}, and packing up takes {takes}: that is {late} after leaving at {leave}.`,
});

export default rule({
	code: "evening/leaves-late",
	severity: "warning",
	words,
	wrong: { night: 'date: 2027-06-05\narrive: "17:00"\nleave: "21:55"' },
	right: { night: 'date: 2027-06-05\narrive: "17:00"\nleave: "22:01"' },
	over: { night: 'date: 2027-06-05\narrive: "17:00"\nleave: "22:00"' },
	*find({ plan, evening, night }) {
		if (!evening || !night) return;
		const cell = plan.cells.find(({ read }) => read.kind === "night");
		const packing = evening.steps.find(({ kind }) => kind === "pack-up");
		const { until: leave } = night.onSite;
		if (!cell || !packing || packing.until - leave < 60_000) return;
		const clock = (moment: number): string => clockOf(night.zone, moment);
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
