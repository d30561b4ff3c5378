import { degrees } from "../../notation/angle.ts";
import { overLimit } from "../../notation/over-limit.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";

const words = sentences("target/near-radiant", {
	title: "Frame centred near the radiant",
	about: `Meteors close to a shower's radiant come almost straight at you and leave short trails; 90° away from it
		they are longest. Centre the frame 30° to 90° from the radiant (common practice), over the foreground you
		want.`,
	message: `The middle of the frame is {away} from the radiant of the {shower}, where meteors look short. Aim {least}
		or more away from it.`,
});

/** Degrees. */
const LEAST = 20;

const aimed = (declination: string): { readonly night: string; readonly targets: string } => ({
	night: 'date: 2027-08-02\narrive: "17:00"\nleave: "02:00"',
	targets: `- name: core\n  aim: { right-ascension: 312, declination: ${declination} }\n  shower: alpha Capricornids\n  from: "21:30"\n  exposure: 10 s`,
});

export default rule({
	code: "target/near-radiant",
	severity: "info",
	words,
	wrong: aimed("-8"),
	instead: aimed("-45"),
	right: aimed("-28.5"),
	over: aimed("-27.5"),
	each: "target",
	*find(evaluation) {
		for (const { cell, target } of eachTarget(evaluation)) {
			const { shower: named, index } = target;
			if (!named?.active()) continue;
			const away = named.away();
			if (away >= LEAST) continue;
			yield {
				...at(cell, `${index}.aim`),
				message: words.message({
					away: overLimit(away, LEAST, 0),
					shower: named.shower.name,
					least: degrees(LEAST, 0),
				}),
			};
		}
	},
});
