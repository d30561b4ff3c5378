import { degrees } from "../../notation/angle.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";

const words = sentences("target/radiant-down", {
	title: "Radiant below the horizon",
	about: `A shower's meteors come from its radiant. While the radiant is below the horizon the ground is in their way,
		and only a few graze the air from below. The higher the radiant, the more meteors you see. Take the frames when
		it is up, on most nights after midnight, or remove \`shower\`.`,
	message: "During the frames the radiant of the {shower} is below the horizon (altitude {from} to {until}). {when}",
	later: "It is highest at {time}, altitude {altitude}.",
	never: "It is not up while it is dark and you are on site.",
});

const withShower = (name: string): string =>
	`- name: core\n  aim: galactic-centre\n  shower: ${name}\n  from: "21:30"\n  exposure: 10 s`;
const NIGHT = 'date: 2027-08-02\narrive: "17:00"\nleave: "04:00"';

export default rule({
	code: "target/radiant-down",
	severity: "info",
	words,
	wrong: { night: NIGHT, targets: withShower("Perseids") },
	right: { night: NIGHT, targets: withShower("alpha Capricornids") },
	each: "target",
	*find(evaluation) {
		for (const { cell, target, clock } of eachTarget(evaluation)) {
			const { shower: named, index, series } = target;
			if (!named?.active()) continue;
			const [from, until] = [named.radiantAt(series.from).altitude, named.radiantAt(series.until).altitude];
			if (from >= 0 || until >= 0) continue;
			const highest = named.highest();
			yield {
				...at(cell, `${index}.shower`),
				message: words.message({
					shower: named.shower.name,
					from: degrees(from, 0),
					until: degrees(until, 0),
					when:
						highest && highest.altitude > 0
							? words.later({ time: clock(highest.at), altitude: degrees(highest.altitude, 0) })
							: words.never(),
				}),
			};
		}
	},
});
