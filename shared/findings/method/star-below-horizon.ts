import { degrees } from "../../notation/angle.ts";
import { at, rule } from "../finding.ts";
import { starFixes } from "./guide-star-fixes.ts";
import { markKey, obstaclesOf } from "./obstacles.ts";
import { windowWords } from "./windows.ts";

export default rule({
	code: "method/star-below-horizon",
	severity: "error",
	title: "Below the horizon then",
	about: "At that time the star or body is under the horizon.",
	wrong: { method: 'kind: sky-bearing\nbody: Sirius\nat: "23:30"' },
	right: {},
	*find(evaluation) {
		for (const { cell, method, obstacle, when } of obstaclesOf(evaluation, "below-horizon")) {
			const own =
				method.method.kind === "square-laser"
					? starFixes(evaluation, cell, method.content)
					: { words: windowWords(method, evaluation), fixes: [] };
			yield {
				...at(cell, markKey(method, obstacle.name)),
				message: `${obstacle.name} is ${degrees(Math.abs(obstacle.altitude))} below the horizon at ${when}.${own.words}`,
				fixes: own.fixes,
			};
		}
	},
});
