import { cellsOf } from "../../plan/plan.ts";
import { halfTurn } from "../../sky/vector.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";

const words = sentences("magnetic/declination-differs", {
	title: "Magnetic declination differs from the model",
	about: `The declination typed is not that of the World Magnetic Model at this place and date. An old map's value drifts
		by a degree in a few years; a wrong sign doubles the error instead of taking it away. East is positive.`,
	message: "The model gives {model} ± {spread}° here that night; {typed}° differs by {off}°.{sign}",
	sign: " Its sign is the wrong way round: east is positive, west negative.",
	change: "Change to {model}",
});

/** A typed declination may differ from the model by this many of its standard deviations, and this many degrees at least. */
const SIGMAS = 2;
const DEGREES = 0.5;

export default rule({
	code: "magnetic/declination-differs",
	severity: "warning",
	words,
	wrong: { method: "kind: compass\ndeclination: 24.1°" },
	// The model gives -26.59° ± 0.55° there that night.
	right: [{ method: "kind: compass\ndeclination: -25.49°" }, { method: "kind: compass\ndeclination: -27.69°" }],
	over: [{ method: "kind: compass\ndeclination: -25.48°" }, { method: "kind: compass\ndeclination: -27.7°" }],
	*find({ plan, field }) {
		if (!field) return;
		const allowed = Math.max(DEGREES, SIGMAS * field.declinationSpread);
		for (const cell of cellsOf(plan, "method")) {
			const typed = cell.read.content?.declination;
			if (typed === undefined) continue;
			const off = Math.abs(halfTurn(typed - field.declination));
			if (off <= allowed) continue;
			const model = `${field.declination.toFixed(1)}°`;
			yield {
				...at(cell, "declination"),
				severity: off > 5 ? "error" : "warning",
				message: words.message({
					model,
					spread: field.declinationSpread.toFixed(1),
					typed: typed.toFixed(1),
					off: off.toFixed(1),
					sign: Math.abs(halfTurn(-typed - field.declination)) <= allowed ? words.sign() : "",
				}),
				fixes: fix(words.change({ model }), false, replaceValue(cell, "declination", model)),
			};
		}
	},
});
