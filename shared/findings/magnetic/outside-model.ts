import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("magnetic/outside-model", {
	title: "Outside the magnetic model's years",
	about: `The World Magnetic Model is made anew every five years; WMM2025 is valid from 2025 to the end of 2029. Beyond it
		the field's change is a guess that grows year by year.`,
	past: `{year} is past WMM2025, which is valid to the end of 2029: magnetic declination ({declination}°) is carried on
		from it and may be off by a degree or more. Use a newer version of Lodebook, or a survey's value.`,
	none: `There is no magnetic model for {year}: no compass reading is given. Use a bearing from the sky or a
		landmark.`,
});

export default rule({
	code: "magnetic/outside-model",
	severity: "warning",
	words,
	wrong: { night: "date: 2031-06-05" },
	right: { night: "date: 2029-12-31" },
	over: { night: "date: 2030-01-01" },
	*find({ plan, field, night }) {
		const cell = cellsOf(plan, "night")[0];
		if (!cell || !night || field?.valid) return;
		const { year } = night.date;
		yield {
			...at(cell, "date"),
			message: field ? words.past({ year, declination: field.declination.toFixed(1) }) : words.none({ year }),
		};
	},
});
