import { degrees } from "../../notation/angle.ts";
import { RAD } from "../../sky/vector.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { MOST_NAMED, marksOrTimesWords, takeBest } from "./marks-instead.ts";
import { obstaclesOf } from "./obstacles.ts";

const words = sentences("method/body-too-high", {
	title: "Too high for a bearing",
	about: `The higher a star or planet is, the more its bearing suffers from a small error of aim: the error grows as
		1 / cos(altitude), to twice the error at 60° and nearly six times at 80°. Choose one that is lower, or a time
		at which this one is.`,
	tooHigh: `At {when} {name} is at altitude {altitude}, where an aiming error of 1° makes the bearing {cost} wrong;
		the altitude must be at most {limit}.{windows}`,
});

export default rule({
	code: "method/body-too-high",
	severity: "warning",
	words,
	wrong: {
		site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 54.3622 W",
		method: 'kind: sky-bearing\nbody: Antares\nat: "23:50"',
	},
	right: {
		site: "name: Sheepfold\nlatitude: 32.4123 S\nlongitude: 54.3622 W",
		method: 'kind: sky-bearing\nbody: Antares\nat: "21:20"',
	},
	*find(evaluation) {
		for (const { cell, method, obstacle, when } of obstaclesOf(evaluation, "too-high")) {
			const { name, key, altitude, limit } = obstacle;
			yield {
				...at(cell, key),
				message: words.tooHigh({
					name,
					altitude: degrees(altitude),
					when,
					cost: degrees(1 / Math.max(0.01, Math.cos(altitude * RAD))),
					limit: degrees(limit, 0),
					windows: marksOrTimesWords(evaluation, method),
				}),
				fixes: takeBest(evaluation, cell, method, MOST_NAMED),
			};
		}
	},
});
