import { cellsOf } from "../../plan/plan.ts";
import { findBody } from "../../sky/place.ts";
import { at, rule } from "../finding.ts";

export default rule({
	code: "method/sun-by-shadow",
	severity: "info",
	title: "The Sun by its shadow only",
	about:
		"Never look at the Sun, and never sight it through a finder, a scope, a lens or a sight hole: it blinds at once. Lay the axis along the shadow of a plumb line instead. Mind the heat, too.",
	wrong: { method: 'kind: sky-bearing\nbody: sun\nat: "17:15"' },
	right: {},
	*find({ plan }) {
		for (const cell of cellsOf(plan, "method")) {
			const body = cell.read.content?.body;
			if (cell.read.content?.kind === "sky-bearing" && body !== undefined && findBody(body)?.type === "sun") {
				yield {
					...at(cell, "body"),
					message: "Use the shadow of a plumb line. Never look at the Sun, and never sight it through anything.",
				};
			}
		}
	},
});
