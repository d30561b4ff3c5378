import { degrees } from "../../notation/angle.ts";
import { at, rule } from "../finding.ts";
import { starFixes } from "./guide-star-fixes.ts";
import { markKey, obstaclesOf } from "./obstacles.ts";
import { windowWords } from "./windows.ts";

export default rule({
	code: "method/star-in-twilight",
	severity: "error",
	title: "Too light to find it",
	about:
		"The sky is too bright then to find this star by eye. How faint a star can be seen at which height of the Sun is common practice: magnitude 4.5 when the Sun is 18° below the horizon, 3 at 12°, half a magnitude at 6°.",
	wrong: { method: 'kind: sky-bearing\nbody: Spica\nat: "17:50"' },
	right: {},
	*find(evaluation) {
		for (const { cell, method, obstacle, when } of obstaclesOf(evaluation, "too-bright")) {
			const own =
				method.method.kind === "square-laser"
					? starFixes(evaluation, cell, method.content)
					: { words: windowWords(method, evaluation), fixes: [] };
			const { sun, name } = obstacle;
			yield {
				...at(cell, markKey(method, name)),
				message: `At ${when} the Sun is ${sun >= 0 ? `up, ${degrees(sun)} high` : `only ${degrees(-sun)} below the horizon`}: too light to find ${name}.${own.words}`,
				fixes: own.fixes,
			};
		}
	},
});
