import { sentences } from "../../text/sentence.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";
import { coordinateText, placeSlip, whereIn } from "./place-and-zone.ts";

const words = sentences("site/hemisphere", {
	title: "Coordinate with the wrong sign",
	about: `With the opposite sign this coordinate would be in the time zone that the plan names; as written it is in
		another. A wrong sign puts the site in the wrong hemisphere, and every direction or clock time is wrong with it.
		Correct the sign or the letter, or the \`timezone\` if the coordinates are right.`,
	message: `This {key} puts the site {there}; with the opposite sign, {text}, it is in {zone}, the zone in the plan.
		Correct the sign.`,
	change: "Change to {text}",
});

export default rule({
	code: "site/hemisphere",
	severity: "error",
	words,
	wrong: { site: "name: Sheepfold\nlatitude: 32.4123 N\nlongitude: 54.3622 W\ntimezone: America/Montevideo" },
	right: { site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 54.3622 W\ntimezone: America/Montevideo" },
	over: [
		{ site: "name: Sheepfold\nlatitude: 32.4123 N\nlongitude: 54.3622 W\ntimezone: America/Montevideo" },
		{ site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 54.3622 E\ntimezone: America/Montevideo" },
	],
	*find(evaluation) {
		const slip = placeSlip(evaluation);
		if (slip?.kind !== "latitude-sign" && slip?.kind !== "longitude-sign") return;
		const { cell, zone, zoneThere, latitude, longitude } = slip;
		const key = slip.kind === "latitude-sign" ? "latitude" : "longitude";
		const text = coordinateText(key, -(key === "latitude" ? latitude : longitude));
		yield {
			...at(cell, key),
			message: words.message({ key, there: whereIn(zoneThere), text, zone }),
			fixes: fix(words.change({ text }), false, replaceValue(cell, key, text)),
		};
	},
});
