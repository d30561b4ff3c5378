import { degrees } from "../../notation/angle.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { otherMarksOrTimes } from "./marks-instead.ts";
import { obstaclesOf } from "./obstacles.ts";

const words = sentences("method/star-in-twilight", {
	title: "Too light to find it",
	about: `The sky is too bright then to find this star by eye. How faint a star can be seen at which height of the Sun is
		common practice: magnitude 4.5 when the Sun is 18° below the horizon, 3 at 12°, half a magnitude at 6°.`,
	tooLight: "At {when} the Sun is {sun}: too light to find {name}.{others}",
	up: "up, {altitude} high",
	below: "only {altitude} below the horizon",
});

export default rule({
	code: "method/star-in-twilight",
	severity: "error",
	words,
	wrong: { method: 'kind: sky-bearing\nbody: Spica\nat: "17:50"' },
	right: { method: 'kind: sky-bearing\nbody: Spica\nat: "18:40"' },
	*find(evaluation) {
		for (const { cell, method, obstacle, when } of obstaclesOf(evaluation, "too-bright")) {
			const { say: others, fixes } = otherMarksOrTimes(evaluation, cell, method);
			const { name, key, sun } = obstacle;
			const height = sun >= 0 ? words.up({ altitude: degrees(sun) }) : words.below({ altitude: degrees(-sun) });
			yield { ...at(cell, key), message: words.tooLight({ when, sun: height, name, others }), fixes };
		}
	},
});
