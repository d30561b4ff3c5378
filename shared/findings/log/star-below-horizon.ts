import { degrees } from "../../notation/angle.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("log/star-below-horizon", {
	title: "Measured star was below the horizon",
	about: `At the date and clock time of this entry its star was below the horizon, so the star, the date or the time
		is wrong. The drift is left out of the result. A clock time before noon belongs to the morning after the entry's
		date. Correct whichever of the three is wrong.`,
	message: `{star} was {below} below the horizon then, so its drift is left out. Check the star, the date and the clock
		time.`,
});

const drift = (clock: string): string =>
	`- { at: "${clock}", frame: 120 s, star: Spica, drift: { right: 2 px, up: -6 px } }`;

export default rule({
	code: "log/star-below-horizon",
	severity: "warning",
	words,
	wrong: { log: drift("04:30") },
	instead: { log: drift("23:30") },
	right: { log: drift("03:38") },
	over: { log: drift("03:39") },
	*find({ plan, log }) {
		const cell = cellsOf(plan, "log")[0];
		if (!cell) return;
		for (const { entry, altitude } of log?.value?.below ?? []) {
			const star = cell.read.content?.[entry]?.star ?? "";
			yield { ...at(cell, `${entry}.star`), message: words.message({ star, below: degrees(-altitude) }) };
		}
	},
});
