import { degrees } from "../../notation/angle.ts";
import { RAD } from "../../sky/vector.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { takeBest } from "./marks-instead.ts";
import { obstaclesOf } from "./obstacles.ts";

const words = sentences("method/pair-too-close", {
	title: "Two stars measure the same part of the error",
	about: `An axis error has two parts, and a star shows only the part that fits its hour angle (its distance from
		the meridian as the sky turns). Two stars at nearly the same hour angle, or 180° apart, show the same part.
		The error grows as 1 / sin(difference); 90°, or six hours, is best.`,
	tooClose: `The two stars are {spread} of hour angle apart, so errors are multiplied by {growth}. Choose stars 30° to 150°
		apart; 90° is best.`,
});

export default rule({
	code: "method/pair-too-close",
	severity: "warning",
	words,
	wrong: { method: 'kind: drift\nfirst: { star: Spica, at: "21:10" }\nsecond: { star: eta Virginis, at: "21:20" }' },
	right: { method: 'kind: drift\nfirst: { star: Spica, at: "21:10" }\nsecond: { star: Antares, at: "21:20" }' },
	*find(evaluation) {
		for (const { cell, method, obstacle } of obstaclesOf(evaluation, "pair-too-close")) {
			const { spread, key } = obstacle;
			const growth = 1 / Math.max(0.01, Math.abs(Math.sin(spread * RAD)));
			yield {
				...at(cell, key),
				message: words.tooClose({ spread: degrees(spread, 0), growth: growth.toFixed(1) }),
				fixes: takeBest(evaluation, cell, method, 2),
			};
		}
	},
});
