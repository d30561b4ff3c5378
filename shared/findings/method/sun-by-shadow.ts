import { METHOD_MARKS } from "../../cells/method/keys.ts";
import { methodOf } from "../../methods/methods.ts";
import { cellsOf } from "../../plan/plan.ts";
import { findBody } from "../../sky/place.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("method/sun-by-shadow", {
	title: "Use the Sun only by its shadow",
	about: `Never look at the Sun, and never sight it through a finder, a polar scope, a lens or a sight hole: it can
		blind you at once and for good. Set the axis by the shadow of a plumb line instead, keep lenses capped, and
		protect yourself from the heat.`,
	shadow: "Use the shadow of a plumb line. Never look at the Sun, and never sight it through anything.",
});

export default rule({
	code: "method/sun-by-shadow",
	severity: "info",
	safety: true,
	words,
	wrong: { method: 'kind: sky-bearing\nbody: sun\nat: "17:15"' },
	right: { method: 'kind: sky-bearing\nbody: Jupiter\nat: "19:15"' },
	*find({ plan }) {
		for (const cell of cellsOf(plan, "method")) {
			const method = cell.read.content;
			if (!method?.kind || !methodOf(method.kind).hazards(method).includes("sun")) continue;
			const isSun = (path: string): boolean => findBody(cell.read.places.get(path)?.source ?? "")?.type === "sun";
			yield { ...at(cell, METHOD_MARKS.find(isSun) ?? "kind"), message: words.shadow() };
		}
	},
});
