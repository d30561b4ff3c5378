import { degrees } from "../../notation/angle.ts";
import { RAD } from "../../sky/vector.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { takeBest } from "./marks-instead.ts";
import { obstaclesOf } from "./obstacles.ts";

const words = sentences("method/pair-too-close", {
	title: "The two stars do not tell both parts",
	about: `Two stars at nearly the same hour angle, or half a turn apart, see the same part of the axis error: what one
		cannot tell, the other cannot either. The error grows as 1 / sin of the difference. Six hours, 90°, is best.`,
	tooClose: `The two stars are {spread} of hour angle apart: errors count {growth} times. From 30° to 150° they serve, 90°
		is best.`,
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
