import { clockText } from "../../notation/clock.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";

const words = sentences("night/leave-before-arrive", {
	title: "Leaving before arriving",
	about: `Times from noon on belong to the evening's date, times before noon to the next morning. In that order the plan
		leaves before it arrives.`,
	message: `The plan arrives at {arrive} and leaves at {leave}: from noon to noon that is the wrong way round. The whole
		night is used instead.`,
	swap: "Swap the two times",
});

export default rule({
	code: "night/leave-before-arrive",
	severity: "error",
	words,
	wrong: { night: 'date: 2027-06-05\narrive: "02:00"\nleave: "17:00"' },
	right: [
		{ night: 'date: 2027-06-05\narrive: "17:00"\nleave: "17:01"' },
		{ night: 'date: 2027-06-05\narrive: "12:00"\nleave: "11:59"' },
	],
	over: [
		{ night: 'date: 2027-06-05\narrive: "17:00"\nleave: "17:00"' },
		{ night: 'date: 2027-06-05\narrive: "12:00"\nleave: "12:00"' },
		{ night: 'date: 2027-06-05\narrive: "11:59"\nleave: "12:00"' },
	],
	*find({ plan, night }) {
		const cell = cellsOf(plan, "night")[0];
		const { arrive, leave } = cell?.read.content ?? {};
		if (!cell || !night || arrive === undefined || leave === undefined) return;
		if (night.instant(arrive) < night.instant(leave)) return;
		const same = night.instant(arrive) === night.instant(leave);
		yield {
			...at(cell, "leave"),
			message: words.message({ arrive: clockText(arrive), leave: clockText(leave) }),
			fixes: same
				? []
				: fix(
						words.swap(),
						false,
						replaceValue(cell, "arrive", clockText(leave)),
						replaceValue(cell, "leave", clockText(arrive)),
					),
		};
	},
});
