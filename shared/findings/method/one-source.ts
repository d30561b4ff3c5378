import { SOURCE_DOCS } from "../../methods/source-docs.ts";
import { degrees } from "../../notation/angle.ts";
import { spreadText } from "../../notation/spread.ts";
import { sentences } from "../../text/sentence.ts";
import { atCell, rule } from "../finding.ts";

/** Part of the variance from which a source is worth naming, and axis error (95 %) below which nothing is. */
const DOMINANT = 0.8;
const GOOD_ENOUGH = 0.5;

const words = sentences("method/one-source", {
	title: "One source makes nearly all of the error",
	about: `Nearly all of the axis error comes from one source. Better that one first; the others do not matter until then.`,
	oneSource: `{part} % of the axis error's variance comes from \`{name}\` (± {spread} gives {gives}): {what}. Better it
		first; the others together leave {rest}.`,
});

export default rule({
	code: "method/one-source",
	severity: "info",
	words,
	wrong: { method: "kind: compass\nuncertainty: { compass: ± 6° }" },
	right: { method: "kind: compass\nuncertainty: { compass: ± 1.2° }" },
	*find({ methods }) {
		const [first] = methods;
		const method = first?.value;
		const [largest] = method?.budget.shares ?? [];
		if (!first || !method || !largest || largest.part < DOMINANT || method.budget.radius95 < GOOD_ENOUGH) return;
		const { name, part, spread, unit, total } = largest;
		const rest = Math.sqrt(Math.max(0, 1 - part)) * Math.hypot(method.budget.along, method.budget.across);
		yield {
			...atCell(first.cell),
			message: words.oneSource({
				part: Math.round(part * 100),
				name,
				spread: spreadText(spread, unit),
				gives: degrees(total, 2),
				what: SOURCE_DOCS[name].toLowerCase().replace(/\.$/, ""),
				rest: degrees(rest, 2),
			}),
		};
	},
});
