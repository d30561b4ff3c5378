import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { obstaclesOf } from "./obstacles.ts";
import { otherWays } from "./other-ways.ts";

const words = sentences("method/needs-scales", {
	title: "Ball head has no scales",
	about: `This method sets the tilt or the bearing of the axis by a scale. A ball head has none, and when it is
		loosened it moves in every direction at once. Use a head with scales, or a method that needs none: the
		right-angle laser, the star sweep, a phone or the pole sighting.`,
	needsScales:
		"The {method} sets the tilt by a scale, and a ball head has none. Use a head with scales, or another method. {others}",
});

export default rule({
	code: "method/needs-scales",
	severity: "error",
	words,
	wrong: { tracker: "head: ball", method: "kind: compass" },
	instead: { tracker: "head: geared", method: "kind: compass" },
	right: { tracker: "head: ball", method: "kind: phone" },
	*find(evaluation) {
		for (const { cell, method } of obstaclesOf(evaluation, "needs-scales")) {
			yield {
				...at(cell, "kind"),
				message: words.needsScales({
					method: method.name,
					others: otherWays(evaluation, method.method),
				}),
			};
		}
	},
});
