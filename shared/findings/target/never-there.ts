import { compositionOf, passesOf } from "../../cells/targets/composition.ts";
import { degrees } from "../../notation/angle.ts";
import { bearingWithPoint, bearingWords } from "../../notation/bearing.ts";
import { contains } from "../../sky/intervals.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { eachTarget } from "./each.ts";

const words = sentences("target/never-there", {
	title: "Target never reaches that direction",
	about: `A target's \`at\` can give a bearing or an altitude instead of a clock time; the first frame is then taken
		when the target gets there. Tonight, while you are on site, it never does. Choose a bearing or an altitude that
		lies on its path, another date, or a clock time.`,
	bearing: `{name} never reaches bearing {wanted} while you are on site: it goes from {first} at {arrive} to {last} at
		{leave}.{elsewhen}`,
	rising: `{name} never rises to altitude {wanted} while you are on site: it is at {first} at {arrive} and at {last}
		at {leave}.{elsewhen}`,
	setting: `{name} never sinks to altitude {wanted} while you are on site: it is at {first} at {arrive} and at {last} at
		{leave}.{elsewhen}`,
	after: " It gets there in the dark at {when}, after you leave.",
	before: " It gets there in the dark at {when}, before you arrive.",
	fixed: "{name} is a fixed direction and does not move with the sky. Write a clock time.",
});

const core = (place: string): string =>
	`- name: core over the gate\n  aim: galactic-centre\n  at: ${place}\n  exposure: 60 s\n  foreground: true`;

export default rule({
	code: "target/never-there",
	severity: "error",
	words,
	wrong: { targets: core("{ bearing: 180 }") },
	instead: { targets: core("{ bearing: 120 }") },
	right: [{ targets: core("{ altitude: 60° }") }, { targets: core("{ altitude: 84°, setting: true }") }],
	over: { targets: core("{ altitude: 89° }") },
	each: "target",
	*find(evaluation) {
		for (const { cell, target, night, clock } of eachTarget(evaluation)) {
			const composition = compositionOf(target.entry);
			if (!composition || (target.timed && !target.fixed)) continue;
			const { name, index, directionAt } = target;
			const place = at(cell, `${index}.at`, "key");
			if (target.fixed) {
				yield { ...place, message: words.fixed({ name }) };
				continue;
			}
			const { from, until } = night.onSite;
			const [first, last] = [directionAt(from), directionAt(until)];
			const then = passesOf(composition, directionAt, night.sky.span, evaluation.field?.declination ?? 0).find(
				(moment) => contains(night.sunDark, moment),
			);
			const elsewhen = then === undefined ? "" : words[then < from ? "before" : "after"]({ when: clock(then) });
			const said = { name, arrive: clock(from), leave: clock(until), elsewhen };
			if ("bearing" in composition && composition.bearing)
				yield {
					...place,
					message: words.bearing({
						...said,
						wanted: bearingWords(composition.bearing.degrees, composition.bearing.north),
						first: bearingWithPoint(first.azimuth),
						last: bearingWithPoint(last.azimuth),
					}),
				};
			else if ("altitude" in composition && composition.altitude !== undefined)
				yield {
					...place,
					message: words[composition.setting ? "setting" : "rising"]({
						...said,
						wanted: degrees(composition.altitude),
						first: degrees(first.altitude),
						last: degrees(last.altitude),
					}),
				};
		}
	},
});
