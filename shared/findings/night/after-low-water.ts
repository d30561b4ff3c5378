import { lowWaterOf } from "../../cells/night/night.ts";
import { isByTheSea } from "../../cells/site/site.ts";
import { isWalkOutTaken, walksOf } from "../../evaluate/evening/of-plan.ts";
import { WALK_OUT } from "../../evaluate/evening/usual-times.ts";
import { wayOpen } from "../../evaluate/way-open.ts";
import { durationText } from "../../notation/duration.ts";
import { nightClock } from "../../notation/night-clock.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { seaCave } from "./sea-cave.ts";

const words = sentences("night/after-low-water", {
	title: "On the shore while the tide comes in",
	about: `Sea caves and many shores can be reached only around low water. The usual advice is to walk in while the
		water falls and to be out within an hour after low water, or sooner if the site's \`way-open\` is shorter. This
		plan keeps you there longer than that. Leave earlier, choose a night whose low water is later, or choose another
		site. If you leave in time but the walk out ends too late, this is only a note, as a plan does not say whether
		the way out goes along the shore; without \`walk-out\` it is taken as 1.25 times the walk in. Go by the local
		tide table and the swell, never by this plan alone.`,
	message: `Low water is at {low}, and the plan leaves at {leave}, {late} after it. Be out by {out} at the latest.`,
	walkTaken: `Low water is at {low}, and the walk out, taken as {times} times the walk in, ends at {end}, {late} after it.
		If any part of the way is below the tide line, be past that by {out}: leave earlier.`,
	walk: `Low water is at {low}, and the walk out ends at {end}, {late} after it. If any part of the way is below the tide line, be
		past that by {out}: leave earlier.`,
});

const night = (low: string): { site: string; night: string } => ({
	site: seaCave(),
	night: `date: 2027-06-05\narrive: "17:00"\nleave: "02:00"\nlow-water: "${low}"`,
});
/** The same with a walk out after it. */
const walkOut = (low: string, walk: string): { site: string; night: string } => ({
	site: seaCave(),
	night: `${night(low).night}\nprepare: { walk-out: ${walk} }`,
});
/** The same with a walk in alone. */
const walkIn = (low: string, walk: string): { site: string; night: string } => ({
	site: seaCave(),
	night: `${night(low).night}\nprepare: { walk-in: ${walk} }`,
});

export default rule({
	code: "night/after-low-water",
	severity: "warning",
	safety: true,
	words,
	wrong: night("22:40"),
	right: [night("01:00"), walkOut("01:30", "30 min"), walkIn("01:30", "24 min")],
	over: [night("00:59"), walkOut("01:30", "31 min"), walkIn("01:30", "25 min")],
	*find({ plan, site, night: tonight }) {
		const cell = cellsOf(plan, "night")[0];
		if (!cell || !tonight || !isByTheSea(site)) return;
		const low = lowWaterOf(tonight);
		const { until: leave } = tonight.onSite;
		if (low === undefined) return;
		const end = leave + walksOf(tonight).out;
		const latest = wayOpen(site, low).until;
		if (Math.max(leave, end) <= latest) return;
		const clock = (moment: number): string => nightClock(tonight, moment);
		const late = (moment: number) => ({
			low: clock(low),
			late: durationText((moment - low) / 1000),
			out: clock(latest),
		});
		yield leave > latest
			? { ...at(cell, "low-water"), message: words.message({ ...late(leave), leave: clock(leave) }) }
			: {
					...at(cell, "low-water"),
					severity: "info",
					message: isWalkOutTaken(tonight)
						? words.walkTaken({ ...late(end), end: clock(end), times: WALK_OUT })
						: words.walk({ ...late(end), end: clock(end) }),
				};
	},
});
