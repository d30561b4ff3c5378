import { ageOfElements } from "../../cells/targets/comet-values.ts";
import { overLimit } from "../../notation/over-limit.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";

const words = sentences("target/old-elements", {
	title: "Comet elements out of date",
	about: `A comet's elements describe the orbit that fits its path best on one day, their epoch. Planets and the
		comet's own jets change that orbit, so a few months from the epoch its place is off by arcminutes, and by much
		more for a comet near Earth or a planet. The Minor Planet Center keeps publishing new elements: paste the
		comet's current line before the night.`,
	message: `The elements of {comet} are for a date {days} days away from this night, so its place may be off by
		arcminutes or more. Paste the comet's newest line from the Minor Planet Center.`,
});

/** Days: half a year. */
const MOST = 183;

const comet = (epoch: string): string =>
	`- name: comet over the gate\n  aim: { comet: "    CK27X010  2027 06 05.0000  2.000000  1.000000  106.0000    0.0000  170.0000  ${epoch}   6.0  4.0  C/2027 X1 (invented)" }\n  from: "21:30"\n  exposure: 60 s\n  trail: 2 px`;

export default rule({
	code: "target/old-elements",
	severity: "info",
	words,
	wrong: { targets: comet("20261120") },
	instead: { targets: comet("20270601") },
	right: { targets: comet("20261206") },
	over: { targets: comet("20261205") },
	each: "target",
	*find(evaluation) {
		for (const { cell, target } of eachTarget(evaluation)) {
			const { body, index } = target;
			const days = ageOfElements(target);
			if (body?.type !== "comet" || days === undefined || days <= MOST) continue;
			yield {
				...at(cell, `${index}.aim`),
				message: words.message({ comet: body.name, days: overLimit(days, MOST, 0) }),
			};
		}
	},
});
