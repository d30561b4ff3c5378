import { declinationText } from "../../notation/declination.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("magnetic/outside-model", {
	title: "Date outside the magnetic model",
	about: `The World Magnetic Model is renewed every five years; WMM2025, used here, is valid from 2025 to the end of
		2029. For later dates Lodebook assumes that the field keeps changing at the same rate, and the error grows year
		by year. Use a newer version of Lodebook, a surveyed declination, or a bearing from the sky or a landmark.`,
	past: `{year} is after WMM2025, which is valid to the end of 2029. Magnetic declination ({declination}) is extrapolated
		and may be off by a degree or more. Use a newer version of Lodebook or a surveyed value.`,
	none: `There is no magnetic model for {year}, so no compass bearing is given. Use a bearing from the sky or a landmark.`,
});

export default rule({
	code: "magnetic/outside-model",
	severity: "warning",
	words,
	wrong: { night: "date: 2031-06-05" },
	instead: { night: "date: 2027-06-05" },
	right: { night: "date: 2029-12-30" },
	over: { night: "date: 2029-12-31" },
	*find({ plan, field, night }) {
		const cell = cellsOf(plan, "night")[0];
		if (!cell || !night || field?.valid) return;
		const { year } = night.date;
		yield {
			...at(cell, "date"),
			message: field ? words.past({ year, declination: declinationText(field.declination) }) : words.none({ year }),
		};
	},
});
