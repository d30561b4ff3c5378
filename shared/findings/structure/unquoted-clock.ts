import { modelAt } from "../../plan/field-at.ts";
import { type Pick, picked } from "../../plan/pick.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";

const words = sentences("structure/unquoted-clock", {
	title: "Clock time without quotes",
	about: `Older YAML programs (YAML 1.1) read \`19:40\` without quotes as the number 1180, counted in sixties. Lodebook
		always reads it as a clock time, but another program that opens the file may change it. Put quotes around clock
		times; \`lodebook format\` does it for the whole plan.`,
	message: "Put this in quotes: older YAML programs read {clock} as a number.",
	quote: "Add quotes",
});

export default rule({
	code: "structure/unquoted-clock",
	severity: "info",
	words,
	wrong: { night: "date: 2027-06-05\narrive: 17:00\nleave: 02:00" },
	instead: { night: 'date: 2027-06-05\narrive: "17:00"\nleave: "02:00"' },
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

const clockAt: Pick<string> = (kind, path, { source, value }) => {
	// What stands in quotes is longer by these.
	if (source === undefined || value.to - value.from === source.length + 2) return undefined;
	return modelAt(kind, path)?.shape.quoted?.(source) ? source : undefined;
};
