import { SOURCES } from "../../cells/kinds.ts";
import { degrees } from "../../notation/angle.ts";
import { atCell, rule } from "../finding.ts";

/** Part of the variance from which a source is worth naming, and axis error (95 %) below which nothing is. */
const DOMINANT = 0.8;
const GOOD_ENOUGH = 0.5;

export default rule({
	code: "method/one-source",
	severity: "info",
	title: "One source makes nearly all of the error",
	about:
		"Nearly all of the axis error comes from one source. Better that one first; the others do not matter until then.",
	wrong: { method: "kind: compass\nuncertainty: { compass: ± 6° }" },
	right: {},
	*find({ methods }) {
		const [first] = methods;
		const method = first?.value;
		const [largest] = method?.budget.shares ?? [];
		if (!first || !method || !largest || largest.part < DOMINANT || method.budget.radius95 < GOOD_ENOUGH) return;
		const without = Math.sqrt(Math.max(0, 1 - largest.part)) * Math.hypot(method.budget.along, method.budget.across);
		yield {
			...atCell(first.cell),
			message: `${Math.round(largest.part * 100)} % of the axis error's variance comes from \`${largest.name}\` (± ${largest.spread}${largest.unit === "°" ? "°" : ` ${largest.unit}`} gives ${degrees(largest.total, 2)}): ${SOURCES[largest.name].toLowerCase().replace(/\.$/, "")}. Better it first; the others together leave ${degrees(without, 2)}.`,
		};
	},
});
