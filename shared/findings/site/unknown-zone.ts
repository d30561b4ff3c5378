import { isZone, knownZones } from "../../earth/zone.ts";
import { cellsOf } from "../../plan/plan.ts";
import { nearestWord } from "../../text/nearest.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";

const words = sentences("site/unknown-zone", {
	title: "Time zone not recognised",
	about: `Time zones are named as in the IANA database, for example \`America/Montevideo\`; neither abbreviations
		such as \`CET\` nor offsets say when clocks change. Until the name is known, the zone of the coordinates is
		used. Correct the name, or leave the key out if that zone is right.`,
	message: "Unknown time zone `{zone}`.{better}",
	zoneThere: " The coordinates are in {zone}.",
	meant: " Did you mean {zone}?",
	change: "Change to {zone}",
});

export default rule({
	code: "site/unknown-zone",
	severity: "error",
	words,
	wrong: { site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 54.3622 W\ntimezone: America/Montevidio" },
	instead: { site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 54.3622 W\ntimezone: America/Montevideo" },
	right: { site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 54.3622 W\ntimezone: America/Belem" },
	over: { site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 54.3622 W\ntimezone: America/Belim" },
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
