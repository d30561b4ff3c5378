import { lowWaterOf } from "../../cells/night/night.ts";
import { isByTheSea } from "../../cells/site/site.ts";
import { walksOf } from "../../evaluate/evening/of-plan.ts";
import { durationText } from "../../notation/duration.ts";
import { nightClock } from "../../notation/night-clock.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { seaCave } from "./sea-cave.ts";

const words = sentences("night/near-high-water", {
	title: "Walk in near high water",
	about: `Sea caves and many shores are reached only around low water. By the low water in the plan, the walk in falls
		within 45 min of a high water, if the tide there comes twice a day: high water is then about 6 h 12 min before and
		after low water. Elsewhere the local tide table tells. Arrive later, while the water falls, or choose another night;
		the tide table and the swell decide, never this plan alone.`,
	message: `The walk in ends at {arrive}, and high water is about {high}, if the tide comes twice a day: {apart} from the walk
		in. Low water is at {low}. Walk in while the water falls, well after high water, and check the local tide table.`,
	during: "no time",
});

/** Between high and low water where the tide comes twice a day: a quarter of the lunar day of 24 h 50.5 min. */
const HIGH_TO_LOW_MS = (24 * 60 + 50.5) * 15_000;
/** So near high water the way is still as good as covered. Common practice, no source. */
const NEAR_MS = 45 * 60_000;

const night = (arrive: string): { site: string; night: string } => ({
	site: seaCave(),
	night: `date: 2027-06-05\narrive: "${arrive}"\nleave: "23:00"\nlow-water: "23:00"\nprepare: { walk-in: 20 min, walk-out: 20 min }`,
});

export default rule({
	code: "night/near-high-water",
	severity: "warning",
	safety: true,
	words,
	wrong: night("17:10"),
	instead: night("19:00"),
	right: [night("17:53"), night("16:02")],
	over: [night("17:52"), night("16:03")],
	*find({ plan, site, night: tonight }) {
		const cell = cellsOf(plan, "night")[0];
		if (!cell || !tonight || tonight.content.arrive === undefined || !isByTheSea(site)) return;
		const low = lowWaterOf(tonight);
		if (low === undefined) return;
		const { from: arrive } = tonight.onSite;
		const begin = arrive - walksOf(tonight).in;
		const apartFrom = (high: number): number => Math.max(0, begin - high, high - arrive);
		const [high] = [low - HIGH_TO_LOW_MS, low + HIGH_TO_LOW_MS].sort((one, other) => apartFrom(one) - apartFrom(other));
		if (high === undefined || apartFrom(high) >= NEAR_MS) return;
		const clock = (moment: number): string => nightClock(tonight, moment);
		const apart = apartFrom(high);
		yield {
			...at(cell, "arrive"),
			message: words.message({
				arrive: clock(arrive),
				high: clock(high),
				apart: apart < 60_000 ? words.during() : durationText(Math.round(apart / 60_000) * 60),
				low: clock(low),
			}),
		};
	},
});
