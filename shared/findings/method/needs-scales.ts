import { ALL_METHODS, methodWithKind } from "../../methods/methods.ts";
import { eitherText } from "../../text/list.ts";
import { sentences } from "../../text/sentence.ts";
import { at, rule } from "../finding.ts";
import { obstaclesOf } from "./obstacles.ts";

const words = sentences("method/needs-scales", {
	title: "Ball head has no scales",
	about: `This method sets the tilt or the bearing of the axis by a scale. A ball head has none, and when it is loosened
		it moves in every direction at once. Use a head with scales, or a method that needs none, such as the
		right-angle laser, the sweep, the phone or pole sighting.`,
	needsScales: "The {method} sets the tilt by a scale, and a ball head has none. Use {others}, or a head with scales.",
});

export default rule({
	code: "method/needs-scales",
	severity: "error",
	words,
	wrong: { tracker: "head: ball", method: "kind: compass" },
	instead: { tracker: "head: geared", method: "kind: compass" },
	right: { tracker: "head: ball", method: "kind: phone" },
	*find(evaluation) {
		const others = ALL_METHODS.filter(({ byScale, corrects }) => byScale.length === 0 && !corrects);
		for (const { cell, method } of obstaclesOf(evaluation, "needs-scales")) {
			yield {
				...at(cell, "kind"),
				message: words.needsScales({
					method: method.name,
					others: eitherText(others.map(methodWithKind)),
				}),
			};
		}
	},
});
