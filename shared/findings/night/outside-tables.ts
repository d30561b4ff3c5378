import { inTables, TABLE_YEARS } from "../../cells/night/night.ts";
import { cellsOf } from "../../plan/plan.ts";
import { at, rule } from "../finding.ts";

export default rule({
	code: "night/outside-tables",
	severity: "error",
	title: "Outside the tables",
	about:
		"Places of Sun, Moon and stars are reckoned for 1900 to 2100. They are checked against the outside for 2020 to 2040; further off the Earth's turning is a guess.",
	wrong: { night: "date: 1871-06-05" },
	right: {},
	*find({ plan }) {
		const cell = cellsOf(plan, "night")[0];
		const date = cell?.read.content?.date;
		if (cell && date && !inTables(date))
			yield {
				...at(cell, "date"),
				message: `${date.year} is outside the tables of the sky, which serve ${TABLE_YEARS.from} to ${TABLE_YEARS.until}. Nothing that depends on the night was reckoned.`,
			};
	},
});
