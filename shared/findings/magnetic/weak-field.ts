import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("magnetic/weak-field", {
	title: "Near a magnetic pole",
	about: `Where the horizontal field is at most 6000 nT the World Magnetic Model's makers ask for caution; at most 2000 nT
		is its blackout zone, in which a compass is not to be used.`,
	blackout: `The horizontal magnetic field is {field} nT here (blackout zone, 2000 nT or less): a compass is not to be
		used, and the model itself is good to ± {spread}°. Take the bearing from the sky or a landmark.`,
	caution: `The horizontal magnetic field is {field} nT here (caution zone, 6000 nT or less): a compass is sluggish, and
		the model itself is good to ± {spread}°. Take the bearing from the sky or a landmark.`,
});

export default rule({
	code: "magnetic/weak-field",
	severity: "warning",
	words,
	wrong: { site: "name: Ice edge\nlatitude: 79 N\nlongitude: 100 W" },
	right: { site: "name: Ice edge\nlatitude: 67.5 N\nlongitude: 100 W" },
	over: { site: "name: Ice edge\nlatitude: 67.51 N\nlongitude: 100 W" },
	*find({ plan, field, methods }) {
		const cell = cellsOf(plan, "site")[0];
		if (!cell || !field || field.zone === "good") return;
		const needle = methods.some(({ value }) => value?.method.hazards(value.content).includes("magnet"));
		const blackout = field.zone === "blackout";
		yield {
			...at(cell, "latitude"),
			severity: blackout && needle ? "error" : "warning",
			message: words[blackout ? "blackout" : "caution"]({
				field: Math.round(field.horizontal),
				spread: field.declinationSpread.toFixed(1),
			}),
		};
	},
});
