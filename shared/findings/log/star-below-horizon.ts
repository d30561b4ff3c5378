import { degrees } from "../../notation/angle.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("log/star-below-horizon", {
	title: "A drift of a star that was not up",
	about: `At the date and clock time of the entry its star was below the horizon, so that one of the three is wrong. The
		drift does not count. A clock time before noon belongs to the morning after the entry's date.`,
	message:
		"{star} was {below} below the horizon then: check the star, the date and the clock time. The drift does not count.",
});

const drift = (clock: string): string =>
	`- { at: "${clock}", frame: 120 s, star: Spica, drift: { right: 2 px, up: -6 px } }`;

export default rule({
	code: "log/star-below-horizon",
	severity: "warning",
	words,
	wrong: { log: drift("04:30") },
	right: { log: drift("03:37") },
	over: { log: drift("03:38") },
	*find({ plan, log }) {
		const cell = cellsOf(plan, "log")[0];
		if (!cell) return;
		for (const { entry, altitude } of log?.value?.below ?? []) {
			const star = cell.read.content?.[entry]?.star ?? "";
			yield { ...at(cell, `${entry}.star`), message: words.message({ star, below: degrees(-altitude) }) };
		}
	},
});
