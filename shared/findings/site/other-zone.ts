import { at, fix, replaceValue, rule } from "../finding.ts";
import { placeSlip } from "./place-and-zone.ts";

export default rule({
	code: "site/other-zone",
	severity: "warning",
	title: "The coordinates lie in another time zone",
	about:
		"The zone named is not the one the coordinates lie in, and the two keep different clocks that night. Either the zone or the coordinates are wrong; the plan's clock times follow the zone named.",
	wrong: { site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 20.8431 E\ntimezone: Europe/London" },
	right: {},
	*find(evaluation) {
		const slip = placeSlip(evaluation);
		if (slip?.kind !== "other-zone") return;
		const { cell, zone, zoneThere, latitude, longitude } = slip;
		yield {
			...at(cell, "timezone"),
			message: `The coordinates (${latitude.toFixed(4)}, ${longitude.toFixed(4)}) lie in ${zoneThere}, not in ${zone}. Correct one of them.`,
			fixes: fix(`Change to ${zoneThere}`, false, replaceValue(cell, "timezone", zoneThere)),
		};
	},
});
