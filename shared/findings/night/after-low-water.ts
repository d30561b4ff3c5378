import { AFTER_LOW_WATER_MS, lowWaterOf } from "../../cells/night/night.ts";
import { isByTheSea } from "../../cells/site/site.ts";
import { durationText } from "../../notation/duration.ts";
import { nightClock } from "../../notation/night-clock.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("night/after-low-water", {
	title: "On the shore while the tide comes in",
	about: `Sea caves and many shores are reached only around low water. The usual advice is to walk in while the water falls
		and to be out within an hour after low water. The plan is still there later than that. Leave earlier, choose a night
		whose low water is later, or choose another site; a local tide table and the swell decide, never this plan alone.`,
	message: `Low water is at {low}, and the plan leaves at {leave}, {late} after it. Be out by {out} at the latest.`,
});

const cave = `name: Cave of the terns
latitude: 32.4123 S
longitude: 54.3622 W
timezone: America/Montevideo
place: [sea-cave]`;
const night = (low: string): { site: string; night: string } => ({
	site: cave,
	night: `date: 2027-06-05\narrive: "17:00"\nleave: "02:00"\nlow-water: "${low}"`,
});

export default rule({
	code: "night/after-low-water",
	severity: "warning",
	safety: true,
	words,
	wrong: night("22:40"),
	right: night("01:00"),
	over: night("00:59"),
	*find({ plan, site, night: tonight }) {
		const cell = plan.cells.find(({ read }) => read.kind === "night");
		if (!cell || !tonight || !isByTheSea(site)) return;
		const low = lowWaterOf(tonight);
		const { until: leave } = tonight.onSite;
		if (low === undefined || leave <= low + AFTER_LOW_WATER_MS) return;
		const clock = (moment: number): string => nightClock(tonight, moment);
		yield {
			...at(cell, "low-water"),
			message: words.message({
				low: clock(low),
				leave: clock(leave),
				late: durationText((leave - low) / 1000),
				out: clock(low + AFTER_LOW_WATER_MS),
			}),
		};
	},
});
