import { cellsOf } from "../../plan/plan.ts";
import { at, rule } from "../finding.ts";

export default rule({
	code: "magnetic/outside-model",
	severity: "warning",
	title: "Outside the magnetic model's years",
	about:
		"The World Magnetic Model is made anew every five years; WMM2025 is valid from 2025 to the end of 2029. Beyond it the field's change is a guess that grows year by year.",
	wrong: { night: "date: 2031-06-05" },
	right: {},
	*find({ plan, field, night }) {
		const cell = cellsOf(plan, "night")[0];
		if (!cell || !night || field?.valid) return;
		yield {
			...at(cell, "date"),
			message: field
				? `${night.date.year} is past WMM2025, which is valid to the end of 2029: magnetic declination (${field.declination.toFixed(1)}°) is carried on from it and may be off by a degree or more. Use a newer version of Lodebook, or a survey's value.`
				: `There is no magnetic model for ${night.date.year}: no compass reading is given. Use a bearing from the sky or a landmark.`,
		};
	},
});
