import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { otherMarks } from "./marks-instead.ts";
import { obstaclesOf } from "./obstacles.ts";

const words = sentences("method/star-too-faint", {
	title: "Too faint to find",
	about: `The star is fainter than a person finds and points at by eye under that sky, moonlight and twilight counted.
		Common practice: magnitude 4.5 in the dark, up to 1.5 less under a bright Moon.`,
	tooFaint: `{name} is of magnitude {magnitude}; at {when}, with that twilight and Moon, stars to {limit} can be found by
		eye.{others}`,
});

export default rule({
	code: "method/star-too-faint",
	severity: "warning",
	words,
	wrong: { method: 'kind: square-laser\nguide-star: HIP 60030\nlocal-rules-checked: true\nat: "20:01"' },
	right: { method: 'kind: square-laser\nguide-star: eta Virginis\nlocal-rules-checked: true\nat: "20:01"' },
	*find(evaluation) {
		for (const { cell, method, obstacle, when } of obstaclesOf(evaluation, "too-faint")) {
			const { say: others, fixes } = otherMarks(evaluation, cell, method);
			const { name, key, magnitude, limit } = obstacle;
			const [is, can] = [magnitude.toFixed(1), limit.toFixed(1)];
			yield { ...at(cell, key), message: words.tooFaint({ name, magnitude: is, when, limit: can, others }), fixes };
		}
	},
});
