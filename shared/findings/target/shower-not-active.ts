import { peakText } from "../../cells/targets/shower-values.ts";
import { overLimit } from "../../notation/over-limit.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";

const words = sentences("target/shower-not-active", {
	title: "Shower not active that night",
	about: `Each year Earth meets a shower's stream on the same days; the International Meteor Organization lists the
		days on which its meteors are seen. On other days there are none, or too few to plan for. Choose a night near
		the peak, or remove \`shower\`.`,
	before: "The {shower} end {days} days after their peak ({peak}); the frames are {away} days after it.",
	after: "The {shower} become active {days} days before their peak ({peak}); the frames are {away} days before it.",
});

const near = (date: string): { readonly night: string; readonly targets: string } => ({
	night: `date: ${date}\narrive: "17:00"\nleave: "02:00"`,
	targets: '- name: core\n  aim: galactic-centre\n  shower: Perseids\n  from: "21:30"\n  exposure: 10 s',
});

export default rule({
	code: "target/shower-not-active",
	severity: "warning",
	words,
	wrong: near("2027-06-05"),
	instead: near("2027-08-12"),
	right: [near("2027-08-24"), near("2027-07-17")],
	over: [near("2027-08-25"), near("2027-07-16")],
	each: "target",
	*find(evaluation) {
		for (const { cell, target, night } of eachTarget(evaluation)) {
			const { shower: named, index } = target;
			if (!named || named.active()) continue;
			const { shower } = named;
			const days = named.days();
			const limit = days > 0 ? shower.after : shower.before;
			yield {
				...at(cell, `${index}.shower`),
				message: (days > 0 ? words.before : words.after)({
					shower: shower.name,
					days: limit,
					peak: peakText(named, night),
					away: overLimit(Math.abs(days), limit, 0),
				}),
			};
		}
	},
});
