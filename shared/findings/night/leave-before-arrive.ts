import { clockText } from "../../notation/clock.ts";
import { cellsOf } from "../../plan/plan.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";

export default rule({
	code: "night/leave-before-arrive",
	severity: "error",
	title: "Leaving before arriving",
	about:
		"Times from noon on belong to the evening's date, times before noon to the next morning. In that order the plan leaves before it arrives.",
	wrong: { night: 'date: 2027-06-05\narrive: "02:00"\nleave: "17:00"' },
	right: {},
	*find({ plan, night }) {
		const cell = cellsOf(plan, "night")[0];
		const { arrive, leave } = cell?.read.content ?? {};
		if (!cell || !night || arrive === undefined || leave === undefined) return;
		if (night.instant(arrive) < night.instant(leave)) return;
		yield {
			...at(cell, "leave"),
			message: `The plan arrives at ${clockText(arrive)} and leaves at ${clockText(leave)}: from noon to noon that is the wrong way round. The whole night is used instead.`,
			fixes: fix(
				"Swap the two times",
				false,
				replaceValue(cell, "arrive", `"${clockText(leave)}"`),
				replaceValue(cell, "leave", `"${clockText(arrive)}"`),
			),
		};
	},
});
