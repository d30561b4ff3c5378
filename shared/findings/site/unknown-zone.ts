import { isZone, knownZones } from "../../earth/zone.ts";
import { cellsOf } from "../../plan/plan.ts";
import { nearestWord } from "../../text/nearest.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";

const words = sentences("site/unknown-zone", {
	title: "Unknown time zone",
	about: `Zones go by their IANA names, such as \`Africa/Johannesburg\`. Until it is known, the one the coordinates lie
		in is used.`,
	message: "`{zone}` is no IANA time zone.{better}",
	zoneThere: " The coordinates lie in {zone}.",
	meant: " Did you mean {zone}?",
	change: "Change to {zone}",
});

export default rule({
	code: "site/unknown-zone",
	severity: "error",
	words,
	wrong: { site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 20.8431 E\ntimezone: Africa/Johanesburg" },
	right: { site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 20.8431 E\ntimezone: Africa/Maseru" },
	over: { site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 20.8431 E\ntimezone: Africa/Masaru" },
	*find({ plan, site }) {
		const cell = cellsOf(plan, "site")[0];
		const zone = cell?.read.content?.timezone;
		if (!cell || zone === undefined || isZone(zone)) return;
		const better = nearestWord(zone, knownZones()) ?? site?.zoneThere;
		const hint = better ? (better === site?.zoneThere ? words.zoneThere : words.meant)({ zone: better }) : "";
		yield {
			...at(cell, "timezone"),
			message: words.message({ zone: zone.slice(0, 60), better: hint }),
			fixes: better ? fix(words.change({ zone: better }), false, replaceValue(cell, "timezone", better)) : [],
		};
	},
});
