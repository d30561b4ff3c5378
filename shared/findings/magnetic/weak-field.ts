import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("magnetic/weak-field", {
	title: "Compass unreliable near a magnetic pole",
	about: `A compass needle is turned by the horizontal part of the magnetic field, which is weak near the magnetic poles.
		The makers of the World Magnetic Model advise caution at 6000 nT or less; at 2000 nT or less, the blackout zone,
		a compass must not be used. Take the bearing from the sky or a landmark instead.`,
	blackout: `The horizontal magnetic field is {field} nT here (blackout zone: 2000 nT or less). Do not use a compass; the
		model itself is good to ± {spread}°. Take the bearing from the sky or a landmark.`,
	caution: `The horizontal magnetic field is {field} nT here (caution zone: 6000 nT or less). A compass is sluggish, and the
		model itself is good to ± {spread}°. Take the bearing from the sky or a landmark.`,
});

export default rule({
	code: "magnetic/weak-field",
	severity: "warning",
	words,
	wrong: { site: "name: Ice edge\nlatitude: 79 N\nlongitude: 100 W" },
	instead: { site: "name: Birch ridge\nlatitude: 64 N\nlongitude: 25 E" },
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
