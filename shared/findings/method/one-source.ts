import { SOURCE_DOCS } from "../../methods/source-docs.ts";
import { degrees } from "../../notation/angle.ts";
import { spreadText } from "../../notation/spread.ts";
import { sentences } from "../../text/sentence.ts";
import { atCell, rule } from "../finding.ts";

/** Part of the variance from which a source is worth naming, and axis error (95 %) below which nothing is. */
const DOMINANT = 0.8;
const GOOD_ENOUGH = 0.5;

const words = sentences("method/one-source", {
	title: "One source makes most of the error",
	about: `At least 80 % of the variance (the square of the standard deviation) of the expected axis error comes from a
		single source. Improving the others gains almost nothing until this one is smaller. Measure or set it more
		accurately, then write its new ± under \`uncertainty\`.`,
	oneSource: `{part} % of the variance of the axis error comes from \`{name}\` ({what}): ± {spread} causes an error of
		{gives}, all the others together {rest}. Improve this one first.`,
});

export default rule({
	code: "method/one-source",
	severity: "info",
	whole: true,
	words,
	wrong: { method: "kind: compass\nuncertainty: { compass: ± 6° }" },
	right: { method: "kind: compass\nuncertainty: { compass: ± 1.2° }" },
	*find({ methods }) {
		const [first] = methods;
		const method = first?.value;
		const [largest] = method?.budget.shares ?? [];
		// Where there is only one, nothing else could be improved first.
		if (
			!first ||
			!method ||
			method.budget.shares.length < 2 ||
			!largest ||
			largest.part < DOMINANT ||
			method.budget.radius95 < GOOD_ENOUGH
		)
			return;
		const { name, part, spread, unit, total } = largest;
		const rest = Math.sqrt(Math.max(0, 1 - part)) * Math.hypot(method.budget.along, method.budget.across);
		yield {
			...atCell(first.cell),
			message: words.oneSource({
				part: Math.round(part * 100),
				name,
				spread: spreadText(spread, unit),
				gives: degrees(total),
				what: SOURCE_DOCS[name].toLowerCase().replace(/\.$/, ""),
				rest: degrees(rest),
			}),
		};
	},
});
