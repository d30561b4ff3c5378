import { degrees } from "../../notation/angle.ts";
import { bearingText } from "../../notation/bearing.ts";
import { at, rule } from "../finding.ts";
import { starFixes } from "./guide-star-fixes.ts";
import { markKey, obstaclesOf } from "./obstacles.ts";

export default rule({
	code: "method/guide-star-never-near",
	severity: "error",
	title: "The star never comes near the aim point",
	about:
		"The pointer, square to the axis, points to the celestial equator when the axis is right. A star far from that declination never comes there, at any hour of any night. Take a star whose declination is within a degree or so.",
	wrong: { method: 'kind: square-laser\nguide-star: Sabik\nat: "20:05"\nlocal-rules-checked: true' },
	right: {},
	*find(evaluation) {
		for (const { cell, method, obstacle } of obstaclesOf(evaluation, "never-near")) {
			const { aim } = method.plan.setUp;
			const { words, fixes } =
				method.method.kind === "square-laser" ? starFixes(evaluation, cell, method.content) : { words: "", fixes: [] };
			const where = aim
				? `the aim point (${degrees(aim.altitude)} high at ${bearingText(aim.azimuth)})`
				: "the circle that the pointer sweeps";
			yield {
				...at(cell, markKey(method, obstacle.name)),
				message: `${obstacle.name} never comes nearer than ${degrees(obstacle.least)} to ${where}; within ${degrees(obstacle.reach)} it would serve.${words}`,
				fixes,
			};
		}
	},
});
