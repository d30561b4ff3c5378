import { at, fix, replaceValue, rule } from "../finding.ts";
import { placeSlip } from "./place-and-zone.ts";

export default rule({
	code: "site/hemisphere",
	severity: "error",
	title: "On the wrong side of the Earth",
	about:
		"With the other sign one of the coordinates would lie in the zone named. A slipped sign turns the plan upside down: the pole, the aim point and every bearing with it.",
	wrong: { site: "name: Sheepfold\nlatitude: 32.4123 N\nlongitude: 20.8431 E\ntimezone: Africa/Johannesburg" },
	right: {},
	*find(evaluation) {
		const slip = placeSlip(evaluation);
		if (slip?.kind !== "latitude-sign" && slip?.kind !== "longitude-sign") return;
		const { cell, zone, zoneThere, latitude, longitude } = slip;
		const key = slip.kind === "latitude-sign" ? "latitude" : "longitude";
		const value = -(key === "latitude" ? latitude : longitude);
		const letter = key === "latitude" ? (value < 0 ? "S" : "N") : value < 0 ? "W" : "E";
		const text = `${Number(Math.abs(value).toFixed(6))} ${letter}`;
		yield {
			...at(cell, key),
			message: `This ${key} puts the stand in ${zoneThere}; with the other sign (${text}) it lies in ${zone}, the zone named.`,
			fixes: fix(`Change to ${text}`, false, replaceValue(cell, key, text)),
		};
	},
});
