import { lowWaterOf } from "../../cells/night/night.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { atCell, rule } from "../finding.ts";
import { seaCave } from "./sea-cave.ts";

const words = sentences("night/no-low-water", {
	title: "Low water not given",
	about: `A sea cave is reached only around low water, and the plan does not say when that is, so no walk in or out
		can be checked against it. Look up low water in the local tide table and write it as \`low-water\`.`,
	message:
		"The site is a sea cave, and `low-water` is not given: look it up in the local tide table, and write it here.",
});

const night = (keys: string): string => `date: 2027-06-05\narrive: "20:00"\nleave: "02:00"${keys}`;

export default rule({
	code: "night/no-low-water",
	severity: "info",
	safety: true,
	words,
	wrong: { site: seaCave(), night: night("") },
	instead: { site: seaCave(), night: night('\nlow-water: "01:30"') },
	right: [{ site: seaCave("cave"), night: night("") }],
	over: [{ site: seaCave("sea-cave, arch"), night: night("") }],
	*find({ plan, site, night: tonight }) {
		const cell = cellsOf(plan, "night")[0];
		if (!cell || !tonight || !site?.content.place?.includes("sea-cave")) return;
		if (lowWaterOf(tonight) === undefined) yield { ...atCell(cell), message: words.message() };
	},
});
