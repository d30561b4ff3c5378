import { lowWaterOf } from "../../cells/night/night.ts";
import { isByTheSea } from "../../cells/site/site.ts";
import { walksOf } from "../../evaluate/evening/of-plan.ts";
import { nightClock } from "../../notation/night-clock.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { seaCave } from "./sea-cave.ts";

const words = sentences("night/near-high-water", {
	title: "Walk in while the water rises or is high",
	about: `Sea caves and many shores are reached only around low water. By the low water in the plan, the walk in falls
		between a low water and 45 min after the next high water, if the tide there comes twice a day: high water is then
		about 6 h 12 min before and after low water. Elsewhere the local tide table tells. Arrive later, while the water
		falls, or choose another night; the tide table and the swell decide, never this plan alone.`,
	rising: "is still rising",
	high: "is still high",
	message: `You arrive at {arrive}, and walk in while the water {tide}; high water is about {high}, if the tide comes twice a
		day. Walk in while it falls, or stay where you can sit out the high water.`,
});

/** Between high and low water where the tide comes twice a day: a quarter of the lunar day of 24 h 50.5 min. */
const HIGH_TO_LOW_MS = (24 * 60 + 50.5) * 15_000;
/** So near high water the way is still as good as covered. Common practice, no source. */
const NEAR_MS = 45 * 60_000;

const night = (arrive: string, low = "23:00"): { site: string; night: string } => ({
	site: seaCave(),
	night: `date: 2027-06-05\narrive: "${arrive}"\nleave: "23:30"\nlow-water: "${low}"\nprepare: { walk-in: 20 min, walk-out: 20 min }`,
});

export default rule({
	code: "night/near-high-water",
	severity: "warning",
	safety: true,
	words,
	wrong: night("15:10"),
	instead: night("19:00"),
	// At low water 02:00 the one before is at 13:34.
	right: [night("17:53"), night("13:34", "02:00")],
	over: [night("17:52"), night("13:35", "02:00")],
	*find({ plan, site, night: tonight }) {
		const cell = cellsOf(plan, "night")[0];
		if (!cell || !tonight || tonight.content.arrive === undefined || !isByTheSea(site)) return;
		const low = lowWaterOf(tonight);
		if (low === undefined) return;
		const { from: arrive } = tonight.onSite;
		const begin = arrive - walksOf(tonight).in;
		const high = [-1, 1, 3]
			.map((quarters) => low + quarters * HIGH_TO_LOW_MS)
			.find((one) => arrive > one - HIGH_TO_LOW_MS && begin < one + NEAR_MS);
		if (high === undefined) return;
		yield {
			...at(cell, "arrive"),
			message: words.message({
				arrive: nightClock(tonight, arrive),
				tide: begin < high ? words.rising() : words.high(),
				high: nightClock(tonight, high),
			}),
		};
	},
});
