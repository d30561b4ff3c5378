import { HIGH_TO_LOW_MS, lowWaterOf } from "../../cells/night/night.ts";
import { isByTheSea } from "../../cells/site/site.ts";
import { walksOf } from "../../evaluate/evening/of-plan.ts";
import { wayOpen } from "../../evaluate/way-open.ts";
import { minutesText } from "../../notation/duration.ts";
import { nightClock } from "../../notation/night-clock.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { seaCave } from "./sea-cave.ts";

const words = sentences("night/walk-in-tide", {
	title: "Walking in while the way is under water",
	about: `Sea caves and many shores can be reached only around low water. A path that the tide covers an hour after
		low water is also covered until about an hour before it. Unless the site has \`way-open\`, the way counts as
		open from 1 h before low water to 1 h after; if you know that it is open for longer, write for how long.
		Otherwise change the time you arrive, or choose a night whose low water suits you. If the tide comes twice a
		day there, high water is about 6 h 12 min before and after low water. If the way is open when you arrive but
		not yet when you set out, this is only a note, as a plan does not say whether the way in goes along the shore.
		Go by the local tide table and the swell, never by this plan alone.`,
	message: `You arrive at {arrive}, {early} before low water ({low}); the way in counts as open from {from}. Arrive
		then or later; if you know that it is open for longer, write \`way-open\` in the site.`,
	rising: `You arrive at {arrive}, {late} after low water ({low}), while the water rises. Arrive between {from} and {low}.`,
	walk: `The walk in begins at {begin}, {early} before low water ({low}); the way counts as open from {from}. If any
		part of the way is below the tide line, set out later.`,
	recurring: "about {time}",
});

const night = (arrive: string, low = "23:00", more = ""): { site: string; night: string } => ({
	site: seaCave(),
	night: `date: 2027-06-05\narrive: "${arrive}"\nleave: "23:30"\nlow-water: "${low}"${more}`,
});
/** The same with a walk in before it. */
const walkIn = (arrive: string) => night(arrive, "23:00", "\nprepare: { walk-in: 30 min }");
const openFor = (arrive: string, open: string) => ({
	...night(arrive),
	site: `${seaCave()}\nway-open: ${open}`,
});

export default rule({
	code: "night/walk-in-tide",
	severity: "warning",
	safety: true,
	words,
	wrong: night("19:00"),
	instead: night("22:00"),
	// The low water before that at 01:00 is at 12:35.
	right: [walkIn("22:30"), openFor("20:30", "2 h 30 min"), night("13:34", "01:00")],
	over: [walkIn("22:29"), openFor("20:29", "2 h 30 min"), night("13:35", "01:00")],
	*find({ plan, site, night: tonight }) {
		const cell = cellsOf(plan, "night")[0];
		if (!cell || !tonight || tonight.content.arrive === undefined || !isByTheSea(site)) return;
		const table = lowWaterOf(tonight);
		if (table === undefined) return;
		const arrive = tonight.onSite.from;
		const begin = arrive - walksOf(tonight).in;
		// The low water that the walk in belongs to: the plan's, or the one half a lunar day before or after it.
		const cycle = 2 * HIGH_TO_LOW_MS;
		const low = table + Math.round((arrive - table) / cycle) * cycle;
		const { from, until } = wayOpen(site, low);
		if (begin >= from && arrive <= until) return;
		const clock = (moment: number): string => nightClock(tonight, moment);
		const lowText = low === table ? clock(low) : words.recurring({ time: clock(low) });
		const times = { low: lowText, from: clock(from) };
		const apart = (moment: number): string => minutesText(Math.abs(low - moment) / 60_000);
		if (arrive > until)
			yield {
				...at(cell, "arrive"),
				message: words.rising({ ...times, arrive: clock(arrive), late: apart(arrive) }),
			};
		else if (arrive < from)
			yield {
				...at(cell, "arrive"),
				message: words.message({ ...times, arrive: clock(arrive), early: apart(arrive) }),
			};
		else
			yield {
				...at(cell, "arrive"),
				severity: "info",
				message: words.walk({ ...times, begin: clock(begin), early: apart(begin) }),
			};
	},
});
