import { modelAt } from "../../plan/field-at.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";

export default rule({
	code: "structure/unquoted-clock",
	severity: "info",
	title: "A clock time without quotes",
	about:
		"A YAML 1.1 reader takes `19:40` for the number 1180, in base 60. Lodebook never does; quotes keep other programs from it. `lodebook format` puts them.",
	wrong: { night: "date: 2027-06-05\narrive: 17:00\nleave: 02:00" },
	right: {},
	*find({ plan }) {
		for (const cell of plan.cells) {
			if (!cell.read.kind) continue;
			for (const [path, place] of cell.read.places) {
				if (place.source === undefined || !/^\d{1,2}:\d{2}(?::\d{2})?$/.test(place.source)) continue;
				if (/^["']/.test(cell.text[place.value.from] ?? "") || modelAt(cell.read.kind, path)?.shape.type !== "clock")
					continue;
				yield {
					...at(cell, path),
					message: `Quote this clock time: older YAML readers take ${place.source} for a number.`,
					fixes: fix("Quote it", true, replaceValue(cell, path, `"${place.source}"`)),
				};
			}
		}
	},
});
