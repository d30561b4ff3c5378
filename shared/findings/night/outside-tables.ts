import { inTables, TABLE_YEARS } from "../../cells/night/night.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("night/outside-tables", {
	title: "Outside the tables",
	about: `Places of Sun, Moon and stars are reckoned for 1900 to 2100. They are checked against the outside for 2020 to
		2040; further off the Earth's turning is a guess.`,
	message: `{year} is outside the tables of the sky, which serve {from} to {until}. Nothing that depends on the night was
		reckoned.`,
});

export default rule({
	code: "night/outside-tables",
	severity: "error",
	words,
	wrong: { night: "date: 1871-06-05" },
	right: [{ night: "date: 1900-01-01" }, { night: "date: 2100-12-31" }],
	over: [{ night: "date: 1899-12-31" }, { night: "date: 2101-01-01" }],
	*find({ plan }) {
		const cell = cellsOf(plan, "night")[0];
		const date = cell?.read.content?.date;
		if (cell && date && !inTables(date))
			yield { ...at(cell, "date"), message: words.message({ year: date.year, ...TABLE_YEARS }) };
	},
});
