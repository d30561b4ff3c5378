import { cellsOf } from "../../plan/plan.ts";
import { halfTurn } from "../../sky/vector.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";

/** A typed declination may differ from the model by this many of its standard deviations, and this many degrees at least. */
const SIGMAS = 2;
const DEGREES = 0.5;

export default rule({
	code: "magnetic/declination-differs",
	severity: "warning",
	title: "Magnetic declination differs from the model",
	about:
		"The declination typed is not that of the World Magnetic Model at this place and date. An old map's value drifts by a degree in a few years; a wrong sign doubles the error instead of taking it away. East is positive.",
	wrong: { method: "kind: compass\ndeclination: 24.1°" },
	right: {},
	*find({ plan, field }) {
		if (!field) return;
		for (const cell of cellsOf(plan, "method")) {
			const typed = cell.read.content?.declination;
			if (typed === undefined) continue;
			const off = halfTurn(typed - field.declination);
			if (Math.abs(off) <= Math.max(DEGREES, SIGMAS * field.declinationSpread)) continue;
			const sign =
				Math.abs(halfTurn(-typed - field.declination)) <= Math.max(DEGREES, SIGMAS * field.declinationSpread);
			const better = `${field.declination.toFixed(1)}°`;
			yield {
				...at(cell, "declination"),
				severity: Math.abs(off) > 5 ? "error" : "warning",
				message: `The model gives ${better} ± ${field.declinationSpread.toFixed(1)}° here that night; ${typed.toFixed(1)}° differs by ${Math.abs(off).toFixed(1)}°.${sign ? " Its sign is the wrong way round: east is positive, west negative." : ""}`,
				fixes: fix(`Change to ${better}`, false, replaceValue(cell, "declination", better)),
			};
		}
	},
});
