import { cellsOf } from "../../plan/plan.ts";
import { at, rule } from "../finding.ts";

export default rule({
	code: "magnetic/weak-field",
	severity: "warning",
	title: "Near a magnetic pole",
	about:
		"Where the horizontal field is at most 6000 nT the World Magnetic Model's makers ask for caution; at most 2000 nT is its blackout zone, in which a compass is not to be used.",
	wrong: { site: "name: Ice edge\nlatitude: 79 N\nlongitude: 100 W" },
	right: {},
	*find({ plan, field, methods }) {
		const cell = cellsOf(plan, "site")[0];
		if (!cell || !field || field.zone === "good") return;
		const needle = methods.some(({ value }) => value?.method.hazards(value.content).includes("magnet"));
		const blackout = field.zone === "blackout";
		yield {
			...at(cell, "latitude"),
			severity: blackout && needle ? "error" : "warning",
			message: `The horizontal magnetic field is ${Math.round(field.horizontal)} nT here (${blackout ? "blackout zone, 2000 nT or less" : "caution zone, 6000 nT or less"}): a compass ${blackout ? "is not to be used" : "is sluggish"}, and the model itself is good to ± ${field.declinationSpread.toFixed(1)}°. Take the bearing from the sky or a landmark.`,
		};
	},
});
