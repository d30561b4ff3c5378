import { degrees } from "../../notation/angle.ts";
import { minutesText } from "../../notation/duration.ts";
import { overLimit } from "../../notation/over-limit.ts";
import { cellsOf } from "../../plan/plan.ts";
import { apart } from "../../sky/horizontal.ts";
import { both, outside } from "../../sky/intervals.ts";
import { moonAltitude, starsOut } from "../../sky/night.ts";
import { apparentDirection, findBody } from "../../sky/place.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, rule, setKey } from "../finding.ts";
import { beginFix, eachTarget, isBrief, partText, timesText } from "./each.ts";

const words = sentences("target/with-moon", {
	title: "Moon above the horizon",
	about: `For some or all of the frames the Moon is up and more of it is lit than the plan allows (\`moon-allowed\` of
		the target or the night, 10 % unless you say otherwise). Moonlight washes out the Milky Way and faint stars,
		though it can light a foreground well. Move the frames to a moonless time, choose a night nearer to new Moon, or
		raise \`moon-allowed\`.`,
	message: `{name} has moonlight for {minutes} of its {duration}: Moon illumination {lit} %, where the plan allows
		{allowed} %; at {time} the Moon is {place}, {away} from the target. Usable: {usable}.`,
	up: "at altitude {altitude}",
	onHorizon: "on the horizon",
	allow: "Allow a Moon illumination of {share} %",
});

export default rule({
	code: "target/with-moon",
	severity: "warning",
	words,
	wrong: { night: 'date: 2027-06-15\narrive: "17:00"\nleave: "02:00"', method: "kind: compass" },
	instead: { night: 'date: 2027-06-05\narrive: "17:00"\nleave: "02:00"', method: "kind: compass" },
	right: [
		{ night: 'date: 2027-06-15\narrive: "17:00"\nleave: "02:00"\nmoon-allowed: 92 %', method: "kind: compass" },
		{
			night: 'date: 2027-06-12\narrive: "17:00"\nleave: "06:00"',
			method: "kind: compass",
			targets: '- name: core\n  aim: galactic-centre\n  from: "02:23"\n  exposure: 60 s\n  foreground: true',
		},
	],
	over: [
		{ night: 'date: 2027-06-15\narrive: "17:00"\nleave: "02:00"\nmoon-allowed: 91 %', method: "kind: compass" },
		{
			night: 'date: 2027-06-12\narrive: "17:00"\nleave: "06:00"',
			method: "kind: compass",
			targets: '- name: core\n  aim: galactic-centre\n  from: "02:21"\n  exposure: 60 s\n  foreground: true',
		},
	],
	each: "target",
	*find(evaluation) {
		const { site, plan } = evaluation;
		const moon = findBody("moon");
		const nightCell = cellsOf(plan, "night")[0];
		if (!site || !moon || !nightCell) return;
		for (const one of eachTarget(evaluation)) {
			const { cell, target, night, minutesOutside, clock, timePath } = one;
			const { moonAllowed: allowed } = target.darkness;
			const lit = night.sky.moonIllumination * 100;
			if (!target.needsDark || lit <= allowed) continue;
			const minutes = minutesOutside(outside(night.sky.moonUp, night.sky.span));
			// What has no time of its own is placed while it is usable, or has a finding of its own.
			if (!target.timed || isBrief(minutes, target.series)) continue;
			if (!target.forSky && !starsOut(site.spot, target.series.from)) continue;
			const moment = both(night.sky.moonUp, [target.series])[0]?.from ?? target.series.from;
			const away = apart(apparentDirection(moon, site.spot, moment), target.directionAt(moment));
			const altitude = moonAltitude(site.spot, moment);
			const share = Math.min(Math.ceil(lit), 100);
			yield {
				...at(cell, timePath),
				...(target.forSky ? {} : { severity: "info" }),
				message: words.message({
					name: target.name,
					minutes: partText(minutes, target.series),
					duration: minutesText(target.seconds / 60),
					lit: overLimit(lit, allowed, 0),
					allowed,
					place: altitude > 0 ? words.up({ altitude: degrees(altitude) }) : words.onHorizon(),
					away: degrees(away, 0),
					time: clock(moment),
					usable: timesText(target.usable, night),
				}),
				fixes: () => [
					...beginFix(one, target.usable),
					...fix(
						words.allow({ share }),
						false,
						target.entry["moon-allowed"] === undefined
							? setKey(nightCell, "", "moon-allowed", `${share} %`)
							: setKey(cell, String(target.index), "moon-allowed", `${share} %`),
					),
				],
			};
		}
	},
});
