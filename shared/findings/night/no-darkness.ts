import { DEFAULT_SUN_BELOW } from "../../cells/night/night.ts";
import { degrees } from "../../notation/angle.ts";
import { cellsOf } from "../../plan/plan.ts";
import { at, rule } from "../finding.ts";

export default rule({
	code: "night/no-darkness",
	severity: "warning",
	title: "No darkness",
	about:
		"The Sun does not go far enough below the horizon while the plan is there. Choose another date, stay later, or plan for twilight with `sun-below`.",
	wrong: {
		site: "name: Skerry\nlatitude: 66.1 N\nlongitude: 12.6 E",
		night: 'date: 2027-06-20\narrive: "22:00"\nleave: "02:00"',
	},
	right: {},
	*find({ plan, night }) {
		const cell = cellsOf(plan, "night")[0];
		if (!cell || !night || night.dark.length > 0) return;
		const wanted = night.content["sun-below"] ?? DEFAULT_SUN_BELOW;
		const { lowest } = night.sky.sunRange();
		const ever = night.sky.sunDark.length > 0;
		yield {
			...at(cell, "date"),
			message: ever
				? `It is dark that night, but not from arriving to leaving: the Sun is more than ${degrees(wanted, 0)} below the horizon outside the stay.`
				: `The Sun goes no further than ${degrees(-lowest)} below the horizon that night; the plan wants ${degrees(wanted, 0)}. There is no darkness.`.replace(
						"further than −",
						"lower than ",
					),
		};
	},
});
