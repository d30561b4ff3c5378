import { sentences } from "../../text/sentence.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";
import { coordinateText, placeSlip, whereIn } from "./place-and-zone.ts";

const words = sentences("site/other-zone", {
	title: "Time zone does not fit the coordinates",
	about: `The coordinates are not in the plan's time zone, and the clocks of the two zones differ that night. Either
		the zone or the coordinates are wrong. All clock times follow the plan's zone, so they may be hours off your
		watch. Correct one of the two.`,
	message: `The coordinates ({latitude}, {longitude}) are {there}, not in {zone}. Correct one of them.`,
	change: "Change to {zone}",
});

/** In summer Halifax keeps the clocks of Montevideo, until the night after 6 November 2027. */
const SITE = "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 54.3622 W\ntimezone: America/Halifax";

export default rule({
	code: "site/other-zone",
	severity: "warning",
	words,
	wrong: { site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 54.3622 W\ntimezone: Europe/London" },
	instead: { site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 54.3622 W\ntimezone: America/Montevideo" },
	right: { site: SITE, night: "date: 2027-11-06" },
	over: { site: SITE, night: "date: 2027-11-07" },
	*find(evaluation) {
		const slip = placeSlip(evaluation);
		if (slip?.kind !== "other-zone") return;
		const { cell, zone, zoneThere, latitude, longitude } = slip;
		yield {
			...at(cell, "timezone"),
			message: words.message({
				latitude: coordinateText("latitude", latitude),
				longitude: coordinateText("longitude", longitude),
				there: whereIn(zoneThere),
				zone,
			}),
			fixes: fix(words.change({ zone: zoneThere }), false, replaceValue(cell, "timezone", zoneThere)),
		};
	},
});
