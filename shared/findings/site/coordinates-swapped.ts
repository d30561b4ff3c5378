import type { Place } from "../../plan/places.ts";
import { placeIn } from "../../plan/plan.ts";
import { asYaml } from "../../text/scalar.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";
import { coordinateText, placeSlip, whereIn } from "./place-and-zone.ts";

const words = sentences("site/coordinates-swapped", {
	title: "Latitude and longitude swapped",
	about: `The coordinates as written are in a different time zone from the one the plan names; swapped, they are in
		that zone. The mistake moves the site by thousands of kilometres, and with it the pole, the darkness and every
		bearing. Swap the two, or correct \`timezone\` if the coordinates are right.`,
	message: `Latitude {latitude} and longitude {longitude} are {there}; swapped, they are in {zone}, the zone in the
		plan. Swap them.`,
	swap: "Swap latitude and longitude",
});

export default rule({
	code: "site/coordinates-swapped",
	severity: "error",
	words,
	wrong: { site: "name: Sheepfold\nlatitude: -54.3622\nlongitude: -32.4123\ntimezone: America/Montevideo" },
	instead: { site: "name: Sheepfold\nlatitude: -32.4123\nlongitude: -54.3622\ntimezone: America/Montevideo" },
	right: [
		{ site: "{ name: Sheepfold, latitude: -32.4123, longitude: -54.3622, timezone: America/Montevideo }" },
		{ site: "{ name: Sheepfold, latitude: 32.4123 S, longitude: 54.3622 W, timezone: America/Montevideo }" },
	],
	over: [
		{ site: "{ name: Sheepfold, latitude: -54.3622, longitude: -32.4123, timezone: America/Montevideo }" },
		{ site: "{ name: Sheepfold, latitude: 54.3622 S, longitude: 32.4123 W, timezone: America/Montevideo }" },
	],
	*find(evaluation) {
		const slip = placeSlip(evaluation);
		if (slip?.kind !== "swapped") return;
		const { cell, zone, zoneThere, latitude, longitude } = slip;
		const [first, second] = [placeIn(cell, "latitude"), placeIn(cell, "longitude")];
		const typed = ({ value, whole = value }: Place) => cell.text.slice(whole.from, whole.to);
		// A letter says which of the two it is: it is written anew.
		const lettered = /[NSEW]/i.test(typed(first) + typed(second));
		const [newLatitude, newLongitude] = lettered
			? [coordinateText("latitude", longitude), coordinateText("longitude", latitude)]
			: [asYaml(typed(second)), asYaml(typed(first))];
		yield {
			...at(cell, "latitude"),
			message: words.message({
				latitude: coordinateText("latitude", latitude),
				longitude: coordinateText("longitude", longitude),
				there: whereIn(zoneThere),
				zone,
			}),
			fixes: fix(
				words.swap(),
				false,
				replaceValue(cell, "latitude", newLatitude),
				replaceValue(cell, "longitude", newLongitude),
			),
		};
	},
});
