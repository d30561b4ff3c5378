import { degrees } from "../../notation/angle.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { otherMarksOrTimes } from "./marks-instead.ts";
import { obstaclesOf } from "./obstacles.ts";

const words = sentences("method/star-in-twilight", {
	title: "Sky too bright to find the star",
	about: `At that time twilight is too bright to find this star by eye. By common practice, without a published
		source, the limit is magnitude 4.5 when the Sun is 18° below the horizon, 3 at 12° and 0.5 at 6°. Wait until it
		is darker, or choose a brighter star or planet.`,
	tooLight: "At {when} the Sun is {sun}, so the sky is too bright to find {name}.{others}",
	up: "{altitude} above the horizon",
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
