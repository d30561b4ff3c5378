import { at, rule } from "../finding.ts";
import { starFixes } from "./guide-star-fixes.ts";
import { markKey, obstaclesOf } from "./obstacles.ts";

export default rule({
	code: "method/star-too-faint",
	severity: "warning",
	title: "Too faint to find",
	about:
		"The star is fainter than a person finds and points at by eye under that sky, moonlight and twilight counted. Common practice: magnitude 4.5 in the dark, up to 1.5 less under a bright Moon.",
	wrong: { method: 'kind: square-laser\nguide-star: HIP 60030\nlocal-rules-checked: true\nat: "20:01"' },
	right: {},
	*find(evaluation) {
		for (const { cell, method, obstacle, when } of obstaclesOf(evaluation, "too-faint")) {
			const { name, magnitude, limit } = obstacle;
			const own =
				method.method.kind === "square-laser" ? starFixes(evaluation, cell, method.content) : { words: "", fixes: [] };
			yield {
				...at(cell, markKey(method, name)),
				message: `${name} is of magnitude ${magnitude.toFixed(1)}; at ${when}, with that twilight and Moon, stars to ${limit.toFixed(1)} can be found by eye.${own.words}`,
				fixes: own.fixes,
			};
		}
	},
});
