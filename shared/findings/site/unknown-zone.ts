import { isZone, knownZones } from "../../earth/zone.ts";
import { cellsOf } from "../../plan/plan.ts";
import { nearestWord } from "../../text/nearest.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";

export default rule({
	code: "site/unknown-zone",
	severity: "error",
	title: "Unknown time zone",
	about:
		"Zones go by their IANA names, such as `Africa/Johannesburg`. Until it is known, the one the coordinates lie in is used.",
	wrong: { site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 20.8431 E\ntimezone: Africa/Johanesburg" },
	right: {},
	*find({ plan, site }) {
		const cell = cellsOf(plan, "site")[0];
		const zone = cell?.read.content?.timezone;
		if (!cell || zone === undefined || isZone(zone)) return;
		const better = nearestWord(zone, knownZones()) ?? site?.zoneThere;
		yield {
			...at(cell, "timezone"),
			message: `\`${zone.slice(0, 60)}\` is no IANA time zone.${better ? ` ${better === site?.zoneThere ? "The coordinates lie in" : "Did you mean"} ${better}${better === site?.zoneThere ? "." : "?"}` : ""}`,
			fixes: better ? fix(`Change to ${better}`, false, replaceValue(cell, "timezone", better)) : [],
		};
	},
});
