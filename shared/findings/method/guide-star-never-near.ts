import { degrees } from "../../notation/angle.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { otherMarks } from "./marks-instead.ts";
import { obstaclesOf } from "./obstacles.ts";

const words = sentences("method/guide-star-never-near", {
	title: "The star never comes near the aim point",
	about: `The pointer, square to the axis, points to the celestial equator when the axis is right. A star far from that
		declination never comes there, at any hour of any night. Take a star whose declination is within a degree or so.`,
	neverNear: "{name} never comes nearer than {least} to {to}; within {reach} it would serve.{others}",
});

export default rule({
	code: "method/guide-star-never-near",
	severity: "error",
	words,
	wrong: { method: 'kind: square-laser\nguide-star: Sabik\nat: "20:05"\nlocal-rules-checked: true' },
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
