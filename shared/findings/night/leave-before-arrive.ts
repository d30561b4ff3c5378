import { clockText } from "../../notation/clock.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, fix, replaceValue, rule } from "../finding.ts";

const words = sentences("night/leave-before-arrive", {
	title: "Leaving before arriving",
	about: `Clock times belong to one night, from noon to noon: times from 12:00 on are on the evening's date, times before
		12:00 on the next morning. In that order this plan leaves before it arrives, so the time on site is not known
		and the whole night is used. Swap or correct the times.`,
	message: `\`leave\` ({leave}) must be later than \`arrive\` ({arrive}); a night runs from noon to noon. Until one of
		them is corrected, the whole night is used.`,
	swap: "Swap the two times",
});

export default rule({
	code: "night/leave-before-arrive",
	severity: "error",
	words,
	wrong: { night: 'date: 2027-06-05\narrive: "02:00"\nleave: "17:00"' },
	instead: { night: 'date: 2027-06-05\narrive: "17:00"\nleave: "02:00"' },
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
