import { inText, placeIn } from "../../plan/plan.ts";
import { at, fix, rule } from "../finding.ts";
import { placeSlip } from "./place-and-zone.ts";

export default rule({
	code: "site/coordinates-swapped",
	severity: "error",
	title: "Latitude and longitude swapped",
	about:
		"As they stand the coordinates lie in another time zone than the one named; the other way round they lie in it.",
	wrong: { site: "name: Sheepfold\nlatitude: 20.8431\nlongitude: -32.4123\ntimezone: Africa/Johannesburg" },
	right: {},
	*find(evaluation) {
		const slip = placeSlip(evaluation);
		if (slip?.kind !== "swapped") return;
		const { cell, zone, zoneThere, latitude, longitude } = slip;
		const [first, second] = [placeIn(cell, "latitude"), placeIn(cell, "longitude")];
		const typed = (place: typeof first) => cell.text.slice(place.value.from, place.value.to);
		const lettered = /[NSEW]/i.test(typed(first) + typed(second));
		yield {
			...at(cell, "latitude"),
			message: `Latitude ${latitude.toFixed(4)} and longitude ${longitude.toFixed(4)} lie in ${zoneThere}; swapped they lie in ${zone}. Are they the wrong way round?`,
			fixes: lettered
				? []
				: fix(
						"Swap latitude and longitude",
						false,
						{ ...inText(cell, first.value), text: typed(second) },
						{ ...inText(cell, second.value), text: typed(first) },
					),
		};
	},
});
