import { degrees } from "../../notation/angle.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { otherMarksOrTimes } from "./marks-instead.ts";
import { obstaclesOf } from "./obstacles.ts";

const words = sentences("method/star-below-horizon", {
	title: "Star or planet below the horizon",
	about: `At the planned time the star, planet or other body that the method points at has set or not yet risen, so
		there is nothing to point at. Choose a time when it is up, or another body that is up when you need one; the
		fix, where there is one, changes the time.`,
	below: "{name} is {altitude} below the horizon at {when}.{others}",
});

export default rule({
	code: "method/star-below-horizon",
	severity: "error",
	words,
	wrong: { method: 'kind: sky-bearing\nbody: Sirius\nat: "23:30"' },
	right: { method: 'kind: sky-bearing\nbody: Sirius\nat: "20:30"' },
	*find(evaluation) {
		for (const { cell, method, obstacle, when } of obstaclesOf(evaluation, "below-horizon")) {
			const { say: others, fixes } = otherMarksOrTimes(evaluation, cell, method);
			const { name, key } = obstacle;
			const altitude = degrees(Math.abs(obstacle.altitude));
			yield { ...at(cell, key), message: words.below({ name, altitude, when, others }), fixes };
		}
	},
});
