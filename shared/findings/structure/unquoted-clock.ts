import { modelAt } from "../../plan/field-at.ts";
import { type Pick, picked } from "../../plan/pick.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";

const words = sentences("structure/unquoted-clock", {
	title: "A clock time without quotes",
	about: `A YAML 1.1 reader takes \`19:40\` for the number 1180, in base 60. Lodebook never does; quotes keep other
		programs from it. \`lodebook format\` puts them.`,
	message: "Quote this clock time: older YAML readers take {clock} for a number.",
	quote: "Quote it",
});

export default rule({
	code: "structure/unquoted-clock",
	severity: "info",
	words,
	wrong: { night: "date: 2027-06-05\narrive: 17:00\nleave: 02:00" },
	right: { night: "date: 2027-06-05\narrive: '17:00'\nleave: \"02:00\"" },
	*find({ plan }) {
		for (const cell of plan.cells) {
			for (const { path, place, found: clock } of picked(cell, clockAt)) {
				if (/^["']/.test(cell.text[place.value.from] ?? "")) continue;
				yield {
					...at(cell, path),
					message: words.message({ clock }),
					fixes: fix(words.quote(), true, replaceValue(cell, path, clock)),
				};
			}
		}
	},
});

const clockAt: Pick<string> = (kind, path, { source }) =>
	source !== undefined && modelAt(kind, path)?.shape.quoted?.(source) ? source : undefined;
