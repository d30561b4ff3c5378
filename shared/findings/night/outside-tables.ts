import { inTables, TABLE_YEARS } from "../../cells/night/night.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("night/outside-tables", {
	title: "Date outside 1900 to 2100",
	about: `Positions of the Sun, Moon, planets and stars are computed for the years 1900 to 2100, and checked against
		independent sources for 2020 to 2040. Beyond those years it is not known well enough how far the Earth's
		rotation has slowed. Nothing that depends on the night is computed. Correct the year.`,
	message: `{year} is outside {from} to {until}, the years for which the sky is computed. Nothing that depends on the night
		was computed. Correct the year.`,
});

export default rule({
	code: "night/outside-tables",
	severity: "error",
	words,
	wrong: { night: "date: 1871-06-05" },
	instead: { night: "date: 2027-06-05" },
	right: [{ night: "date: 1900-01-01" }, { night: "date: 2100-12-31" }],
	over: [{ night: "date: 1899-12-31" }, { night: "date: 2101-01-01" }],
	*find({ plan }) {
		const cell = cellsOf(plan, "night")[0];
		const date = cell?.read.content?.date;
		if (cell && date && !inTables(date))
			yield { ...at(cell, "date"), message: words.message({ year: date.year, ...TABLE_YEARS }) };
	},
});
