import { degrees } from "../../notation/angle.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { otherMarks } from "./marks-instead.ts";
import { obstaclesOf } from "./obstacles.ts";

const words = sentences("method/guide-star-never-near", {
	title: "Guide star never reaches the aim point",
	about: `As the sky turns, a star keeps its declination, its distance from the celestial equator. The aim point has a
		fixed declination too: 0° for a right-angle laser. A star that differs by more than the reach of the method
		never comes close enough, at any hour of any night. Choose one within a degree or so of the aim point's
		declination.`,
	neverNear: `{name} never comes closer than {least} to {to}; it must come within {reach}. Choose another star.{others}`,
});

export default rule({
	code: "method/guide-star-never-near",
	severity: "error",
	words,
	wrong: { method: 'kind: square-laser\nguide-star: Sabik\nat: "20:05"\nlocal-rules-checked: true' },
	instead: { method: 'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nlocal-rules-checked: true' },
	right: {
		method: 'kind: square-laser\nguide-star: eta Virginis\nat: "20:01"\nreach: 0.9°\nlocal-rules-checked: true',
	},
	*find(evaluation) {
		for (const { cell, method, obstacle } of obstaclesOf(evaluation, "never-near")) {
			const { name, key, least, reach, to } = obstacle;
			const { say: others, fixes } = otherMarks(evaluation, cell, method);
			yield {
				...at(cell, key),
				message: words.neverNear({ name, least: degrees(least), to, reach: degrees(reach), others }),
				fixes,
			};
		}
	},
});
