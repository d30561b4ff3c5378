import { degrees } from "../../notation/angle.ts";
import { cellsOf } from "../../plan/plan.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";

const words = sentences("log/star-hidden", {
	title: "Measured star was hidden from the site",
	about: `At the date and clock time of this entry its star was behind the skyline, an obstruction or the roof that
		the plan gives for the site. Either the star, the date or the time is wrong, or the site hides less than the
		plan says. The drift still counts for that evening, but an axis computed from the wrong star is off by degrees,
		so the evening does not count toward a scale's constant error. Correct the entry, or the skyline.`,
	message: `{star} was at {altitude} then, where the site hides the sky. Check the star, the date and the clock time, or
		correct the site.`,
});

const drift = (clock: string): string =>
	`- { at: "${clock}", frame: 120 s, star: Spica, drift: { right: 2 px, up: -6 px } }`;

const walled = "name: walls\nlatitude: 32.4123 S\nlongitude: 20.8431 E\nelevation: 1450 m\nskyline: [[0, 30]]";

export default rule({
	code: "log/star-hidden",
	severity: "warning",
	words,
	wrong: { site: walled, log: drift("02:30") },
	instead: { site: walled, log: drift("23:30") },
	right: { site: walled, log: drift("01:12") },
	over: { site: walled, log: drift("01:13") },
	*find({ plan, log }) {
		const cell = cellsOf(plan, "log")[0];
		if (!cell) return;
		for (const { entry, altitude } of log?.value?.hidden ?? []) {
			const star = cell.read.content?.[entry]?.star ?? "";
			yield { ...at(cell, `${entry}.star`), message: words.message({ star, altitude: degrees(altitude) }) };
		}
	},
});
