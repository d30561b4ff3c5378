import { sentences } from "../../text/sentence.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";
import { coordinateText, placeSlip } from "./place-and-zone.ts";

const words = sentences("site/hemisphere", {
	title: "On the wrong side of the Earth",
	about: `With the other sign one of the coordinates would lie in the zone named. A slipped sign turns the plan upside
		down: the pole, the aim point and every bearing with it.`,
	message: `This {key} puts the stand in {zoneThere}; with the other sign ({text}) it lies in {zone}, the zone
		named.`,
	change: "Change to {text}",
});

export default rule({
	code: "site/hemisphere",
	severity: "error",
	words,
	wrong: { site: "name: Sheepfold\nlatitude: 32.4123 N\nlongitude: 20.8431 E\ntimezone: Africa/Johannesburg" },
	right: { site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 20.8431 E\ntimezone: Africa/Johannesburg" },
	over: [
		{ site: "name: Sheepfold\nlatitude: 32.4123 N\nlongitude: 20.8431 E\ntimezone: Africa/Johannesburg" },
		{ site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 20.8431 W\ntimezone: Africa/Johannesburg" },
	],
	*find(evaluation) {
		const slip = placeSlip(evaluation);
		if (slip?.kind !== "latitude-sign" && slip?.kind !== "longitude-sign") return;
		const { cell, zone, zoneThere, latitude, longitude } = slip;
		const key = slip.kind === "latitude-sign" ? "latitude" : "longitude";
		const text = coordinateText(key, -(key === "latitude" ? latitude : longitude));
		yield {
			...at(cell, key),
			message: words.message({ key, zoneThere, text, zone }),
			fixes: fix(words.change({ text }), false, replaceValue(cell, key, text)),
		};
	},
});
