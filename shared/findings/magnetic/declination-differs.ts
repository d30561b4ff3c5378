import { declinationText } from "../../notation/declination.ts";
import { cellsOf } from "../../plan/plan.ts";
import { halfTurn } from "../../sky/vector.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";
import { atMember } from "../group/member.ts";

const words = sentences("magnetic/declination-differs", {
	title: "Magnetic declination differs from the model",
	about: `The declination in the plan, the angle from true to magnetic north, is not the one that the World Magnetic
		Model gives for this place and date. A value from an old map can be a degree out after a few years, and a
		wrong sign doubles the error. East is positive. Use the model's value unless yours was measured there
		recently.`,
	message: `The model gives {model} ± {spread}° here that night; the plan has {typed}, which differs by {off}°.
		{sign}Correct the plan's value.`,
	sign: "The sign is wrong: east is positive, west negative. ",
	change: "Change to {value} ({model})",
	member: `The plan of {name} gives a declination of {typed}. At the group's site it is {model} that night, which is
		used for everybody. Correct the one in that plan, or delete it.`,
});

/** A typed declination may differ from the model by this many of its standard deviations, and this many degrees at least. */
const SIGMAS = 2;
const DEGREES = 0.5;

export default rule({
	code: "magnetic/declination-differs",
	severity: "warning",
	words,
	wrong: { method: "kind: compass\ndeclination: 24.1°" },
	// The model gives -14.67° ± 0.42° there that night.
	instead: { method: "kind: compass\ndeclination: -14.7°" },
	right: [{ method: "kind: compass\ndeclination: -13.84°" }, { method: "kind: compass\ndeclination: -15.5°" }],
	over: [{ method: "kind: compass\ndeclination: -13.82°" }, { method: "kind: compass\ndeclination: -15.52°" }],
	*find({ plan, field, group }) {
		if (!field) return;
		const allowed = Math.max(DEGREES, SIGMAS * field.declinationSpread);
		const model = declinationText(field.declination);
		const [members] = cellsOf(plan, "group");
		for (const { member } of group?.kits ?? []) {
			const { name, declination: typed } = member;
			if (!members || typed === undefined || Math.abs(halfTurn(typed - field.declination)) <= allowed) continue;
			yield { ...atMember(members, member), message: words.member({ name, typed: declinationText(typed), model }) };
		}
		for (const cell of cellsOf(plan, "method")) {
			const typed = cell.read.content?.declination;
			if (typed === undefined) continue;
			const off = Math.abs(halfTurn(typed - field.declination));
			if (off <= allowed) continue;
			const value = `${field.declination.toFixed(1)}°`;
			yield {
				...at(cell, "declination"),
				severity: off > 5 ? "error" : "warning",
				message: words.message({
					model,
					spread: field.declinationSpread.toFixed(1),
					typed: declinationText(typed),
					off: off.toFixed(1),
					sign: Math.abs(halfTurn(-typed - field.declination)) <= allowed ? words.sign() : "",
				}),
				fixes: fix(words.change({ value, model }), false, replaceValue(cell, "declination", value)),
			};
		}
	},
});
